package boatfolder

import "bytes"

// Opened are the files that a reading of the draft needs, by name: the person's own winds and currents among them, and
// nothing else that lies in the folder. They are as they lie there, without the draft's edits, so that a draft made FromFiles
// of them with the same edits is the same.
func (d *Draft) Opened() map[string][]byte {
	d.parse()
	out := map[string][]byte{}
	for _, name := range d.needed {
		if l := d.opened.leaf(name); l.err == nil { // else an edit makes it
			out[name] = l.data
		}
	}
	return out
}

// FromFiles makes a draft of a folder's files that came from elsewhere, such as Opened's. No disk is looked at: a file that is
// not among them is not in the folder.
//
// In:     name stands for the folder in what is said of it
func FromFiles(name string, content map[string][]byte) *Draft {
	own := make(carried, len(content))
	for k, v := range content {
		own[k] = bytes.Clone(v)
	}
	d := openWith(name, own)
	d.opened.mu.Lock()
	d.opened.from = own // or a leaf asked for later would be looked for on the disk
	d.opened.mu.Unlock()
	return d
}

// carried is a folder's files in memory.
type carried map[string][]byte

func (c carried) names() []string {
	var out []string
	for name := range c {
		out = append(out, name)
	}
	return out
}

// read gives one file, under the bounds that a file on the disk has.
func (c carried) read(name string) ([]byte, error) {
	if err := inside(name); err != nil {
		return nil, err
	}
	data, ok := c[name]
	if !ok {
		return nil, absent{refusal{"is not in the folder", ""}}
	}
	return data, tooLarge(name, data)
}
