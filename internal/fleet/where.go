package fleet

import "fmt"

// Here is the number of workers that stands for this process.
const Here = -1

// Where says who works on a sweep, and where its queue is. Package hands does it.
type Where struct {
	At        string // the address of a server that runs already; empty: within this process
	Listen    string // host:port for the server within this process, so that other machines may work; empty: nobody else
	TokenFile string // holds the token that the server asks for; else the environment does
	Workers   int    // processes to start; Here: this one works; 0: only others
	// Job is the sweep's name. What is done of a sweep that has one is kept, and the same sweep under the same name is taken up
	// where it stands.
	Job string
	// Tell, if not nil, is told what a person should know: an address, a worker that has died.
	Tell func(string)
}

// Stopped is the error of a sweep that was ended before it was done.
type Stopped struct {
	Done, Parts int
	Job         string // empty: nothing is kept
	Cause       error  // the context's
}

// Error says what is lost, and what is not.
func (s *Stopped) Error() string {
	if s.Job == "" {
		return fmt.Sprintf("stopped: what was done (%d of %d parts) is lost; a sweep with a name is kept, and can be taken up again", s.Done, s.Parts)
	}
	return fmt.Sprintf("stopped: %d of %d parts are done and kept under the name %s: the same sweep under that name takes them up; only what was being done is lost", s.Done, s.Parts, s.Job)
}

// Unwrap gives the context's error.
func (s *Stopped) Unwrap() error { return s.Cause }
