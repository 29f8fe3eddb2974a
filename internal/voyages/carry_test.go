package voyages

import (
	"context"
	"encoding/binary"
	"errors"
	"hash/crc32"
	"reflect"
	"testing"
)

// TestBytes: a tally comes back from its bytes, and damaged bytes are refused.
func TestBytes(t *testing.T) {
	r, err := New(atlantic())
	if err != nil {
		t.Fatal(err)
	}
	tally, err := r.Run(context.Background(), 0, 10, 1, nil)
	if err != nil {
		t.Fatal(err)
	}
	b, _ := tally.MarshalBinary()
	var back Tally
	if err := back.UnmarshalBinary(b); err != nil || !reflect.DeepEqual(&back, tally) {
		t.Fatalf("not what was sent (%v)", err)
	}
	for i := 0; i < len(b); i += 7 {
		if err := back.UnmarshalBinary(b[:i]); !errors.Is(err, ErrInput) {
			t.Fatalf("the first %d bytes were taken", i)
		}
		c := append([]byte(nil), b...)
		c[i] ^= 0x10
		if err := back.UnmarshalBinary(c); !errors.Is(err, ErrInput) {
			t.Fatalf("a changed byte %d was taken", i)
		}
	}
	if !reflect.DeepEqual(&back, tally) {
		t.Error("refused bytes changed the tally")
	}
}

// FuzzBytes: whatever the bytes, with a right sum, nothing breaks, and what is read is written the same.
func FuzzBytes(f *testing.F) {
	r, err := New(plain())
	if err != nil {
		f.Fatal(err)
	}
	b, _ := r.NewTally().MarshalBinary()
	f.Add(b[len(mark) : len(b)-4])
	f.Add([]byte{})
	f.Fuzz(func(t *testing.T, data []byte) {
		b := append([]byte(mark), data...)
		b = binary.LittleEndian.AppendUint32(b, crc32.ChecksumIEEE(b))
		var a, c Tally
		if a.UnmarshalBinary(b) != nil {
			return
		}
		again, err := a.MarshalBinary()
		if err != nil {
			t.Fatal(err)
		}
		if err := c.UnmarshalBinary(again); err != nil {
			t.Fatal(err)
		}
		if third, _ := c.MarshalBinary(); string(third) != string(again) {
			t.Fatal("written twice, it differs")
		}
	})
}
