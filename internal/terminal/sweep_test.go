package terminal

import (
	"context"
	"encoding/json"
	"errors"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"testing"

	"thole/internal/fleet"
	"thole/internal/house/gallery"
)

// comesTo is what came of a sweep of two variants.
var comesTo = fleet.Result{Boat: "Test hull", Stamp: "0123", Passages: 500, Notes: []string{}, Rows: []fleet.Row{
	{Leave: "2027-01-12", Tries: []string{}, Planned: 80, Median: &fleet.Figure{Value: 61.04, Low: 60, High: 62}, Best: true},
	{Leave: "2027-01-12", Tries: []string{"fuller quarters"}, Fault: "no draft carries her"},
}}

// TestSweep: what the flags ask for comes through, and what came of it is shown, written and given to machines.
func TestSweep(t *testing.T) {
	tl := tools(unicodeEnv, gallery.Table())
	var wish fleet.Wish
	var where fleet.Where
	tl.Sweep = func(_ context.Context, w fleet.Wish, h fleet.Where, told fleet.Told) (fleet.Result, error) {
		wish, where = w, h
		told(1, 2)
		h.Tell("a worker has ended")
		return comesTo, nil
	}
	out := filepath.Join(t.TempDir(), "out")
	code, said, errs := run(t, tl, "sweep", "boat", "--every", "2 weeks", "--from", "2027-01-12", "--try", "a|b", "--try", "c", "--passages", "500", "--seed", "7", "--quick",
		"--workers", "3", "--job", "winter", "--listen", "127.0.0.1:1", "--token-file", "f", "--out", out)
	if code != Held || errs != "thole: a worker has ended\n" {
		t.Errorf("%d %q", code, errs)
	}
	want := fleet.Wish{Folder: "boat", Dates: fleet.Dates{Every: "2 weeks", From: "2027-01-12"}, Tries: []string{"a|b", "c"}, Passages: 500, Seed: 7, Quick: true}
	if wish.Dates != want.Dates || wish.Folder != want.Folder || !slices.Equal(wish.Tries, want.Tries) || wish.Passages != 500 || wish.Seed != 7 || !wish.Quick {
		t.Errorf("asked for %+v", wish)
	}
	if where.Workers != 3 || where.Job != "winter" || where.Listen != "127.0.0.1:1" || where.TokenFile != "f" {
		t.Errorf("done at %+v", where)
	}
	for _, want := range []string{"Test hull, folder 0123", "*12 Jan 2027, as", "61.0 (60.0 to 62.0)", "fuller quarters: no draft carries her"} {
		if !strings.Contains(strings.Join(strings.Fields(said), " "), want) {
			t.Errorf("not told: %s\n%s", want, said)
		}
	}
	var r fleet.Result
	if b, err := os.ReadFile(filepath.Join(out, "sweep.json")); err != nil || json.Unmarshal(b, &r) != nil || len(r.Rows) != 2 || r.Rows[0].Median.Value != 61.04 {
		t.Errorf("sweep.json: %v %+v", err, r)
	}
	if b, err := os.ReadFile(filepath.Join(out, "sweep.csv")); err != nil || !strings.Contains(string(b), "2027-01-12,fuller quarters,") {
		t.Errorf("sweep.csv: %v %s", err, b)
	}
	code, said, _ = run(t, tl, "sweep", "boat", "--json")
	if code != Held || json.Unmarshal([]byte(said), &r) != nil || where.Workers != fleet.Here || wish.Passages != usualPassages {
		t.Errorf("%d %s; %+v, %+v", code, said, wish, where)
	}
	if code, _, errs = run(t, tl, "sweep", "boat", "--workers", "-1"); code != Unread || !strings.Contains(errs, "--workers -1") {
		t.Errorf("%d %s", code, errs)
	}
}

// TestSweepStopped: what is lost is said.
func TestSweepStopped(t *testing.T) {
	tl := tools(unicodeEnv, gallery.Table())
	tl.Sweep = func(context.Context, fleet.Wish, fleet.Where, fleet.Told) (fleet.Result, error) {
		return fleet.Result{}, &fleet.Stopped{Done: 3, Parts: 8, Cause: context.Canceled}
	}
	if code, _, errs := run(t, tl, "sweep", "boat"); code != Stopped || !strings.Contains(errs, "3 of 8 parts") || !strings.Contains(errs, "is lost") {
		t.Errorf("%d %s", code, errs)
	}
	forgot := ""
	tl.Forget = func(_ context.Context, w fleet.Where) error { forgot = w.Job; return nil }
	if code, _, _ := run(t, tl, "sweep", "boat", "--job", "winter", "--forget"); code != Held || forgot != "winter" {
		t.Errorf("%d, forgot %q", code, forgot)
	}
}

// TestWork: a worker is quiet in a pipe, and what ends it is told.
func TestWork(t *testing.T) {
	tl := tools(unicodeEnv, gallery.Table())
	tl.Work = func(_ context.Context, address, token string, cores int, told func(job, boat string, part int)) error {
		told("winter", "Test hull", 1)
		if address != "nats://10.0.0.1:4222" || token != "f" || cores != 2 {
			t.Errorf("%s %s %d", address, token, cores)
		}
		return errors.New("another build")
	}
	if code, out, errs := run(t, tl, "work", "nats://10.0.0.1:4222", "--token-file", "f", "--cores", "2"); code != Unread || out != "" || errs != "another build\n" {
		t.Errorf("%d %q %q", code, out, errs)
	}
}
