package fleet

import (
	"crypto/sha256"
	"encoding/hex"
	"fmt"
	"io"
	"os"
	"runtime"
	"runtime/debug"
	"slices"
	"strings"
	"sync"

	"thole/internal/climate"
)

// Build tells this program from others that might give other digits.
type Build struct {
	Mark    string `json:"mark"`    // of the program; equal marks give equal digits
	Climate string `json:"climate"` // of the embedded winds, currents and air
	Said    string `json:"said"`    // in words
}

// Same tells whether two builds give the same digits.
func (b Build) Same(o Build) bool { return b.Mark == o.Mark && b.Climate == o.Climate }

// own is this program's build.
var own = sync.OnceValues(func() (Build, error) {
	b := Build{Climate: climate.Mark(), Said: "an unmarked build with " + runtime.Version() + " for " + runtime.GOARCH}
	if info, ok := debug.ReadBuildInfo(); ok {
		b.Mark, b.Said = committed(info)
	}
	if b.Mark != "" {
		return b, nil
	}
	// Nothing says from what it was built: then only the very same file will do.
	name, err := os.Executable()
	if err != nil {
		return b, fmt.Errorf("this program cannot tell which build it is: %w", err)
	}
	f, err := os.Open(name)
	if err != nil {
		return b, fmt.Errorf("this program cannot tell which build it is: %w", err)
	}
	defer f.Close()
	sum := sha256.New()
	if _, err := io.Copy(sum, f); err != nil {
		return b, fmt.Errorf("this program cannot tell which build it is: %w", err)
	}
	b.Mark = "file " + hex.EncodeToString(sum.Sum(nil))[:32]
	b.Said = "the program file " + hex.EncodeToString(sum.Sum(nil))[:12] + " with " + runtime.Version() + " for " + runtime.GOARCH
	return b, nil
})

// committed is the mark of a program built from a revision with nothing changed: the revision, the compiler and the settings,
// but for the system that it runs on. The processor counts: some join a product and a sum with one rounding, others with two.
//
// Out:    nothing where the revision is not known or not all
func committed(info *debug.BuildInfo) (mark, said string) {
	var lines []string
	settings := map[string]string{}
	for _, s := range info.Settings {
		settings[s.Key] = s.Value
		switch s.Key {
		case "GOOS", "vcs.time", "-trimpath", "-buildmode":
		default:
			lines = append(lines, s.Key+"="+s.Value)
		}
	}
	if settings["vcs.revision"] == "" || settings["vcs.modified"] != "false" {
		return "", ""
	}
	for _, m := range info.Deps {
		for ; m != nil; m = m.Replace {
			lines = append(lines, m.Path+" "+m.Version+" "+m.Sum)
		}
	}
	lines = append(lines, info.GoVersion, info.Main.Path)
	slices.Sort(lines)
	sum := sha256.Sum256([]byte(strings.Join(lines, "\n")))
	return "revision " + hex.EncodeToString(sum[:16]), "revision " + settings["vcs.revision"][:min(12, len(settings["vcs.revision"]))] + " with " + info.GoVersion + " for " + settings["GOARCH"]
}
