package boatfolder

import "strings"

// Compact is edits with every value that is set again set once: the later text takes the place of the earlier one and
// keeps its Was, so that a point that was pulled two hundred times is one edit.
//
// Only what cannot be told from the edits one after the other is put together: the later edit must expect the text that
// the earlier one wrote, and nothing between the two may touch the value or move what the key counts.
func Compact(edits []Edit) []Edit {
	out := make([]Edit, 0, len(edits))
	for _, e := range edits {
		if at := setBefore(out, e); at >= 0 {
			out[at].Text = e.Text
		} else {
			out = append(out, e)
		}
	}
	return out
}

// setBefore finds the edit whose text a later one replaces; -1 for none.
func setBefore(edits []Edit, e Edit) int {
	if e.Do != Set {
		return -1
	}
	for i := len(edits) - 1; i >= 0; i-- {
		was := edits[i]
		switch {
		case was.File != e.File:
		case was.Do != Set:
			return -1
		case was.Key == e.Key:
			if was.Of == e.Of && was.Text != "" && (e.Was == "" || e.Was == was.Text) {
				return i
			}
			return -1
		case within(was.Key, e.Key) || within(e.Key, was.Key):
			return -1
		}
	}
	return -1
}

// within tells whether a key lies in what another names.
func within(key, other string) bool {
	rest, ok := strings.CutPrefix(key, other)
	return ok && rest != "" && (rest[0] == '.' || rest[0] == '[')
}
