package draw

import (
	"bytes"
	"fmt"
	"io"
	"strconv"

	"codeberg.org/go-pdf/fpdf"
)

// unscaled asks whoever prints the paper not to fit it to the page (PDF
// Reference 1.6, viewer preferences, PrintScaling). A request, no promise:
// the bars on every sheet stay the proof.
const unscaled = "/ViewerPreferences << /PrintScaling /None >>\n"

// finish writes a document out with that request. The library cannot say it, so
// that it is put into the catalogue, which is the last object of the file: only
// the place where the table of objects begins moves, and is written anew.
func finish(w io.Writer, doc *fpdf.Fpdf) error {
	var b bytes.Buffer
	if err := doc.Output(&b); err != nil {
		return err
	}
	out, err := ask(b.Bytes())
	if err != nil {
		return err
	}
	_, err = w.Write(out)
	return err
}

func ask(pdf []byte) ([]byte, error) {
	catalogue, begins := []byte("/Type /Catalog\n"), []byte("startxref\n")
	c, s := bytes.LastIndex(pdf, catalogue), bytes.LastIndex(pdf, begins)
	if c < 0 || s < c || bytes.Contains(pdf[c:s], []byte(" 0 obj")) {
		return nil, fmt.Errorf("the printed paper has no catalogue at its end; its library has changed")
	}
	rest := pdf[s+len(begins):]
	end := bytes.IndexByte(rest, '\n')
	if end < 0 {
		return nil, fmt.Errorf("the printed paper has no end; its library has changed")
	}
	table, err := strconv.Atoi(string(rest[:end]))
	if err != nil || table < c {
		return nil, fmt.Errorf("the printed paper's table of objects is not where it should be; its library has changed")
	}
	c += len(catalogue)
	var out bytes.Buffer
	out.Write(pdf[:c])
	out.WriteString(unscaled)
	out.Write(pdf[c:s])
	fmt.Fprintf(&out, "startxref\n%d", table+len(unscaled))
	out.Write(rest[end:])
	return out.Bytes(), nil
}
