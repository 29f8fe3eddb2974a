// Package letters holds the faces of type that everything on paper is set in.
//
// They are IBM Plex, under the SIL Open Font License 1.1; its words are in
// LICENSE.txt beside the files, and NOTICE says where the files come from.
package letters

import (
	_ "embed" // the fonts are part of the program

	"codeberg.org/go-pdf/fpdf"
)

var (
	//go:embed IBMPlexSerif-Regular.ttf
	serifRegular []byte
	//go:embed IBMPlexSerif-SemiBold.ttf
	serifBold []byte
	//go:embed IBMPlexSerif-Italic.ttf
	serifItalic []byte
	//go:embed IBMPlexSans-Regular.ttf
	sansRegular []byte
	//go:embed IBMPlexSans-SemiBold.ttf
	sansBold []byte
)

// The families: one serif for sentences, one plain face for figures.
const (
	Serif = "serif"
	Sans  = "sans"
)

// CapHeight is how high a capital or a figure of the plain face stands, as a
// share of the size of the letters (the font's own OS/2 table: 698 of 1000).
const CapHeight = 0.698

// Add makes the families known to a document. Only the letters that are used
// are carried in what is written.
func Add(doc *fpdf.Fpdf) {
	doc.AddUTF8FontFromBytes(Serif, "", serifRegular)
	doc.AddUTF8FontFromBytes(Serif, "B", serifBold)
	doc.AddUTF8FontFromBytes(Serif, "I", serifItalic)
	AddPlain(doc)
}

// AddPlain makes only the plain face known, for papers that hold no sentences.
func AddPlain(doc *fpdf.Fpdf) {
	doc.AddUTF8FontFromBytes(Sans, "", sansRegular)
	doc.AddUTF8FontFromBytes(Sans, "B", sansBold)
}
