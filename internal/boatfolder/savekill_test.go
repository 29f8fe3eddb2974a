//go:build unix

package boatfolder

import (
	"math/rand/v2"
	"os"
	"os/exec"
	"testing"
	"time"
)

// killed is set in the process that TestSaveAndKill starts and kills.
const killed = "THOLE_SAVE_AND_BE_KILLED"

// A process that is killed while it saves leaves each file whole, and the next one saves.
func TestSaveAndKill(t *testing.T) {
	if dir := os.Getenv(killed); dir != "" {
		d, faults := Open(dir)
		if faults != nil {
			t.Fatal(faults)
		}
		d, faults = d.With(Edit{File: "boat.yaml", Key: "boat", Text: "Wren"}, Edit{File: "tables/o.csv", Key: "rows[0].station", Text: "a"}, Edit{File: "voyage.yaml", Key: "days", Text: "9"})
		if faults != nil {
			t.Fatal(faults)
		}
		println("saving")
		_ = d.Save()
		return
	}
	if testing.Short() {
		t.Skip("starts and kills itself; left out with -short")
	}
	start := time.Now()
	if err := saved(t, savable(t)).Save(); err != nil {
		t.Fatal(err)
	}
	took := time.Since(start)
	r := rand.New(rand.NewPCG(5, 6))
	found := map[int]int{}
	for range 25 {
		dir := savable(t)
		d := saved(t, dir)
		c := exec.Command(os.Args[0], "-test.run", "^TestSaveAndKill$")
		c.Env = append(os.Environ(), killed+"="+dir)
		out, err := c.StderrPipe()
		if err != nil {
			t.Fatal(err)
		}
		if err := c.Start(); err != nil {
			t.Fatal(err)
		}
		if _, err := out.Read(make([]byte, 1)); err != nil { // it begins to save
			t.Fatal(err)
		}
		time.Sleep(time.Duration(r.Float64() * 1.5 * float64(took)))
		if err := c.Process.Kill(); err != nil {
			t.Fatal(err)
		}
		_ = c.Wait() // it was killed, or was done already
		found[intact(t, "killed", contents(t, dir))]++
		if err := d.Save(); err != nil {
			t.Errorf("saved again: %v", err)
		}
		if intact(t, "saved again", contents(t, dir)) != len(savedTexts) {
			t.Error("saved again, and not all is there")
		}
	}
	t.Logf("killed with so many files written: %v", found)
}
