package web

import (
	"thole/internal/boatfolder"
	"thole/internal/model"
	"thole/internal/portrait"
)

// onDisk reads real folders.
var onDisk = source{
	read:       readFolder,
	stamp:      boatfolder.Stamp,
	lastDay:    (*model.Folder).LastDay,
	conditions: conditionNames,
	portrait:   portrait.Draw,
}

func readFolder(dir string) (*model.Folder, []Fault) {
	folder, faults := boatfolder.Read(dir)
	var told []Fault
	for _, f := range faults {
		told = append(told, Fault{f.File, f.Line, f.Column, f.Key, f.Text, f.Say, f.Mend})
	}
	return folder, told
}

func conditionNames(f *model.Folder) []string {
	var names []string
	for _, c := range f.Conditions() {
		names = append(names, c.Name)
	}
	return names
}
