package book

import (
	_ "embed" // the fonts are part of the program

	"codeberg.org/go-pdf/fpdf"
)

// The book is set in IBM Plex, under the SIL Open Font License 1.1; its words
// are in fonts/LICENSE.txt.
var (
	//go:embed fonts/IBMPlexSerif-Regular.ttf
	serifRegular []byte
	//go:embed fonts/IBMPlexSerif-SemiBold.ttf
	serifBold []byte
	//go:embed fonts/IBMPlexSerif-Italic.ttf
	serifItalic []byte
	//go:embed fonts/IBMPlexSans-Regular.ttf
	sansRegular []byte
	//go:embed fonts/IBMPlexSans-SemiBold.ttf
	sansBold []byte
)

// The families: one serif for sentences, one plain face for figures.
const (
	serif = "serif"
	sans  = "sans"
)

// addFonts makes the families known to a document.
func addFonts(doc *fpdf.Fpdf) {
	doc.AddUTF8FontFromBytes(serif, "", serifRegular)
	doc.AddUTF8FontFromBytes(serif, "B", serifBold)
	doc.AddUTF8FontFromBytes(serif, "I", serifItalic)
	doc.AddUTF8FontFromBytes(sans, "", sansRegular)
	doc.AddUTF8FontFromBytes(sans, "B", sansBold)
}
