// Package web is the page: a server on this machine's own loopback that shows
// one boat folder and the answers to every question about it.
//
// The package holds no arithmetic on the boat and names no question: it reads
// the folder, asks the questions of the table it was given, and hands answers
// and sheets to the page, which is built from the folder web/ of the repository
// into dist/ and embedded, so that Go alone runs the program.
//
// Nothing is loaded from elsewhere and nobody else is let in: the server
// listens on the loopback only, and refuses requests that name another host or
// come from another site's page (see guard.go).
package web

import (
	"context"
	"errors"
	"fmt"
	"io"
	"net"
	"net/http"
	"time"

	"thole/internal/answer"
)

// partingTime is how long requests under way may take to finish when the
// server is told to stop.
const partingTime = 3 * time.Second

// Page is the page with what it offers beside the questions of a table.
type Page struct {
	Searches []answer.Search // by the ids of the questions that they serve
}

// Serve shows the boat folder dir at addr until ctx is done, then finishes what
// is under way and returns nil. The address must be of the loopback
// ("127.0.0.1:8080", "localhost:0"; port 0 takes a free one). Once the server
// listens, ready is called with the address to open; it may be nil.
//
// A folder that has faults is served all the same: the page shows the faults
// with their mends and takes the folder up as soon as it can be read.
func (p Page) Serve(ctx context.Context, dir string, table []answer.Question, addr string, ready func(url string)) error {
	bound, err := loopback(addr)
	if err != nil {
		return err
	}
	return p.serve(ctx, dir, table, bound, "", ready)
}

// ServeBeyond is Serve at one address of a network, which whoever starts it must have asked for:
// anyone on that network may then read and change the folder. It answers to that address alone.
func (p Page) ServeBeyond(ctx context.Context, dir string, table []answer.Question, addr string, ready func(url string)) error {
	bound, host, err := network(addr)
	if err != nil {
		return err
	}
	return p.serve(ctx, dir, table, bound, host, ready)
}

func (p Page) serve(ctx context.Context, dir string, table []answer.Question, bound, beyond string, ready func(url string)) error {
	handler, closer, err := newHandler(dir, table, p.Searches, onDisk, beyond)
	if err != nil {
		return err
	}
	defer closer.Close()
	listener, err := net.Listen("tcp", bound)
	if err != nil {
		return fmt.Errorf("cannot listen at %s: %w (is another one running? try another port)", bound, err)
	}
	server := &http.Server{
		Handler:           handler,
		ReadHeaderTimeout: 5 * time.Second,
		IdleTimeout:       2 * time.Minute,
		MaxHeaderBytes:    16 << 10,
		// No ReadTimeout and no WriteTimeout: either would end the streams
		// of events. Bodies are bounded by the guard; each event sets a
		// deadline of its own.
	}
	done := make(chan error, 1)
	go func() { done <- server.Serve(listener) }()
	if ready != nil {
		ready("http://" + listener.Addr().String() + "/")
	}
	select {
	case err = <-done:
		return fmt.Errorf("the server stopped: %w", err)
	case <-ctx.Done():
	}
	closer.Close() // ends the streams, so that Shutdown does not wait for them
	parting, cancel := context.WithTimeout(context.Background(), partingTime)
	defer cancel()
	if err := server.Shutdown(parting); err != nil {
		server.Close()
	}
	if err := <-done; !errors.Is(err, http.ErrServerClosed) {
		return err
	}
	return nil
}

// Handler is the page's server without a listener. Closing ends the streams of
// events and the questions under way.
func (p Page) Handler(dir string, table []answer.Question) (http.Handler, io.Closer, error) {
	return newHandler(dir, table, p.Searches, onDisk, "")
}

func newHandler(dir string, table []answer.Question, searches []answer.Search, from source, beyond string) (http.Handler, io.Closer, error) {
	page, err := embeddedPage()
	if err != nil {
		return nil, nil, err
	}
	desk, err := newDesk(dir, from)
	if err != nil {
		return nil, nil, err
	}
	asking := newAsking(table)
	mux := http.NewServeMux()
	api := &service{desk: desk, asking: asking, leverage: newLeverage(), lanes: &lanes{going: map[string]*lane{}}, moments: newRecent[[]answer.Answer](keptMoments), table: table, searches: newSearching(searches, asking), from: from}
	api.register(mux)
	mux.Handle("/", page.handler(table))
	return guard(mux, beyond), closers{desk, asking}, nil
}

// closers closes several things.
type closers []io.Closer

// Close closes all of them; it may be called again.
func (c closers) Close() error {
	var all error
	for _, one := range c {
		all = errors.Join(all, one.Close())
	}
	return all
}

// loopback turns a wished address into one that only this machine reaches.
func loopback(addr string) (string, error) {
	host, port, err := net.SplitHostPort(addr)
	if err != nil {
		return "", fmt.Errorf("address %q: %w (write 127.0.0.1:8080)", addr, err)
	}
	if host == "localhost" || host == "" {
		host = "127.0.0.1"
	}
	ip := net.ParseIP(host)
	if ip == nil || !ip.IsLoopback() {
		return "", fmt.Errorf("address %q is not of this machine's loopback: the page is for this machine only (write 127.0.0.1:%s)", addr, port)
	}
	return net.JoinHostPort(host, port), nil
}

// network turns a wished address into one of a network, and the name by which it is asked.
func network(addr string) (bound, host string, err error) {
	host, port, err := net.SplitHostPort(addr)
	if err != nil {
		return "", "", fmt.Errorf("address %q: %w (write 192.0.2.7:8137, with an address of this machine)", addr, err)
	}
	ip := net.ParseIP(host)
	switch {
	case ip == nil:
		return "", "", fmt.Errorf("address %q is a name: write the number of this machine on that network (192.0.2.7:%s), so that no stranger's name can be made to lead here", addr, port)
	case ip.IsUnspecified(), ip.IsMulticast():
		return "", "", fmt.Errorf("address %q is not one address of this machine: write the one on the network that is meant (192.0.2.7:%s)", addr, port)
	}
	return net.JoinHostPort(ip.String(), port), ip.String(), nil
}
