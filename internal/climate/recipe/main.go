// Command recipe makes the climate files that package climate embeds, from the public Debian
// package ferret-datasets, version 7.6.0-5. It is run by hand, from the repository's root:
//
//	apt-get download ferret-datasets
//	go run ./internal/climate/recipe ferret-datasets_7.6.0-5_all.deb
//
// Nothing is installed: the package is unpacked into a folder that is removed afterwards (which
// needs dpkg-deb). A folder in which it is unpacked already is taken as well. The inputs are
// checked by hash, and the same inputs give the same bytes.
package main

import (
	"bytes"
	"compress/gzip"
	"crypto/sha256"
	"flag"
	"fmt"
	"os"
	"os/exec"
	"path/filepath"

	"thole/internal/climate/layout"
)

func main() {
	out := flag.String("out", "internal/climate/data", "the folder to write to")
	flag.Parse()
	if flag.NArg() != 1 {
		fmt.Fprintln(os.Stderr, "use: go run ./internal/climate/recipe [--out FOLDER] PACKAGE.deb")
		os.Exit(2)
	}
	if err := run(flag.Arg(0), *out); err != nil {
		fmt.Fprintln(os.Stderr, err)
		os.Exit(1)
	}
}

// run unpacks, makes and writes.
func run(deb, out string) error {
	if info, err := os.Stat(deb); err == nil && !info.IsDir() {
		dir, err := os.MkdirTemp("", "climate")
		if err != nil {
			return err
		}
		defer os.RemoveAll(dir)
		if text, err := exec.Command("dpkg-deb", "-x", deb, dir).CombinedOutput(); err != nil {
			return fmt.Errorf("dpkg-deb: %w\n%s", err, text)
		}
		deb = dir
	}
	dir := filepath.Join(deb, "usr/share/ferret-vis/data")
	if err := check(dir); err != nil {
		return err
	}
	files, err := all(dir)
	if err != nil {
		return err
	}
	var sums bytes.Buffer
	for _, name := range []string{"wind.bin", "years.bin", "weather.bin", "current.bin"} {
		raw := files[name]
		fmt.Fprintf(&sums, "%x  %s\n", sha256.Sum256(raw), name)
		var packed bytes.Buffer
		z, err := gzip.NewWriterLevel(&packed, gzip.BestCompression)
		if err != nil {
			return err
		}
		if _, err := z.Write(raw); err != nil {
			return err
		}
		if err := z.Close(); err != nil {
			return err
		}
		if err := os.WriteFile(filepath.Join(out, name+".gz"), packed.Bytes(), 0o644); err != nil {
			return err
		}
		fmt.Printf("%-12s %7d bytes, packed %7d\n", name, len(raw), packed.Len())
	}
	return os.WriteFile(filepath.Join(out, "SHA256SUMS"), sums.Bytes(), 0o644)
}

// all makes the files, unpacked, from the folder of the inputs.
func all(dir string) (map[string][]byte, error) {
	relief, err := read(dir, "etopo20.cdf", "ROSE")
	if err != nil {
		return nil, err
	}
	sea := wet(relief)
	out := map[string][]byte{}
	for name, of := range map[string]struct {
		channels []layout.Channel
		make     func(string, []bool) ([][]float64, []byte, error)
	}{
		"wind.bin": {layout.Wind, wind}, "years.bin": {layout.Years, years}, "weather.bin": {layout.Weather, weather}, "current.bin": {layout.Current, current},
	} {
		fields, origin, err := of.make(dir, sea)
		if err != nil {
			return nil, err
		}
		var b []byte
		for i, f := range fields {
			for _, x := range f {
				b = append(b, byte(of.channels[i].Pack(x)))
			}
		}
		out[name] = append(b, origin...)
	}
	return out, nil
}
