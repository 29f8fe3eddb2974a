package web

import (
	"bytes"
	"encoding/json"
	"errors"
	"fmt"
	"io"
	"mime"
	"net"
	"net/http"
	"net/url"
	"strings"
	"time"

	"github.com/danielgtaylor/huma/v2"
)

// Bounds on what a request may carry, and how long it may take to arrive.
const (
	maxBody  = 1 << 20
	bodyTime = 10 * time.Second
)

// policy lets the page load nothing but its own files: no inline script or
// style, no frames, no other host.
const policy = "default-src 'none'; script-src 'self'; style-src 'self'; font-src 'self'; " +
	"img-src 'self' data:; connect-src 'self'; form-action 'none'; base-uri 'none'; frame-ancestors 'none'"

// guard lets only this machine's own pages in.
//
// A page of any site can make the browser send requests to the loopback, and
// a name under a stranger's control can be made to lead there. So the Host must
// be one of the loopback's own names with the port listened at, and what comes
// from another origin is refused, reading included. Where the server was asked
// to listen on a network, the Host must be that one address, beyond; it is empty otherwise.
func guard(next http.Handler, beyond string) http.Handler {
	var cross http.CrossOriginProtection
	return http.HandlerFunc(func(w http.ResponseWriter, r *http.Request) {
		head := w.Header()
		head.Set("Content-Security-Policy", policy)
		head.Set("X-Content-Type-Options", "nosniff")
		head.Set("X-Frame-Options", "DENY")
		head.Set("Referrer-Policy", "no-referrer")
		head.Set("Cross-Origin-Opener-Policy", "same-origin")
		head.Set("Cross-Origin-Resource-Policy", "same-origin")
		head.Set("Permissions-Policy", "camera=(), microphone=(), geolocation=()")
		if !ownHost(r, beyond) {
			http.Error(w, "This server answers to "+answersTo(beyond)+" only.", http.StatusMisdirectedRequest)
			return
		}
		if !ownOrigin(r) || cross.Check(r) != nil {
			http.Error(w, "This server does not answer to the pages of other sites.", http.StatusForbidden)
			return
		}
		if status, say := carry(w, r); status != 0 {
			refuse(w, status, say)
			return
		}
		next.ServeHTTP(&onceWriter{ResponseWriter: w}, r)
	})
}

// onceWriter says the status of an answer once. The library behind the interface says another when
// whoever asked has gone while the answer was being written, which the server would complain of.
type onceWriter struct {
	http.ResponseWriter
	said bool
}

// WriteHeader says the status, the first time.
func (w *onceWriter) WriteHeader(status int) {
	if w.said {
		return
	}
	w.said = status >= 200 // those before are not the last word
	w.ResponseWriter.WriteHeader(status)
}

// Write writes of the answer; its status is said with it.
func (w *onceWriter) Write(b []byte) (int, error) {
	w.said = true
	return w.ResponseWriter.Write(b)
}

// Unwrap leads to the writer that flushes and keeps time.
func (w *onceWriter) Unwrap() http.ResponseWriter { return w.ResponseWriter }

// carry takes in what a request carries before it is looked at. What is written to the interface
// must be JSON by its own word: that is what no form of another site's page can send.
func carry(w http.ResponseWriter, r *http.Request) (status int, say string) {
	writes := r.Method != http.MethodGet && r.Method != http.MethodHead
	if writes && strings.HasPrefix(r.URL.Path, "/api/") {
		if kind, _, err := mime.ParseMediaType(r.Header.Get("Content-Type")); err != nil || kind != "application/json" {
			return http.StatusUnsupportedMediaType, fmt.Sprintf("what is sent here must be JSON, with the header Content-Type: application/json, not %q", r.Header.Get("Content-Type"))
		}
	}
	if r.ContentLength == 0 {
		return 0, ""
	}
	clock := http.NewResponseController(w)
	// A connection that cannot have a deadline is one of a test.
	clock.SetReadDeadline(time.Now().Add(bodyTime))
	body, err := io.ReadAll(http.MaxBytesReader(w, r.Body, maxBody))
	var large *http.MaxBytesError
	switch {
	case errors.As(err, &large):
		return http.StatusRequestEntityTooLarge, fmt.Sprintf("more than %d MB was sent at once", maxBody>>20)
	case err != nil: // the deadline stands, so that nobody waits for the rest
		w.Header().Set("Connection", "close")
		return http.StatusBadRequest, "what was sent broke off: " + err.Error()
	}
	clock.SetReadDeadline(time.Time{}) // left standing it would end what is worked out for long
	r.Body, r.ContentLength = io.NopCloser(bytes.NewReader(body)), int64(len(body))
	return 0, ""
}

// refuse says no in the words of the interface's own errors.
func refuse(w http.ResponseWriter, status int, say string) {
	w.Header().Set("Content-Type", "application/problem+json")
	w.WriteHeader(status)
	json.NewEncoder(w).Encode(huma.NewError(status, say))
}

// answersTo names the hosts that are answered to.
func answersTo(beyond string) string {
	if beyond != "" {
		return beyond
	}
	return "localhost, 127.0.0.1 and [::1]"
}

// ownHost tells whether the request names this server by a name that is the
// loopback's own, or by the address that it was asked to listen at, and by the port that it came in at.
func ownHost(r *http.Request, beyond string) bool {
	name, port, err := net.SplitHostPort(r.Host)
	if err != nil { // no port: the browser leaves 80 out
		name, port = strings.Trim(r.Host, "[]"), "80"
	}
	switch {
	case beyond != "":
		if name != beyond {
			return false
		}
	case name != "localhost" && name != "127.0.0.1" && name != "::1":
		return false
	}
	local, ok := r.Context().Value(http.LocalAddrContextKey).(net.Addr)
	if !ok { // not behind a listener
		return true
	}
	_, listened, err := net.SplitHostPort(local.String())
	return err == nil && port == listened
}

// ownOrigin tells whether the request comes from this server's own page, or
// from no page at all (an address typed, a link followed, another program).
func ownOrigin(r *http.Request) bool {
	if origin := r.Header.Get("Origin"); origin != "" {
		from, err := url.Parse(origin)
		return err == nil && from.Scheme == "http" && from.Host == r.Host
	}
	switch r.Header.Get("Sec-Fetch-Site") {
	case "", "same-origin", "none":
		return true
	}
	// A link from elsewhere may open the page, never fetch from behind it.
	return r.Header.Get("Sec-Fetch-Mode") == "navigate" && r.Method == http.MethodGet &&
		!strings.HasPrefix(r.URL.Path, "/api/")
}
