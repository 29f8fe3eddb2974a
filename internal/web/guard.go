package web

import (
	"net"
	"net/http"
	"net/url"
	"strings"
)

// maxBody bounds what a request may carry.
const maxBody = 64 << 10

// policy lets the page load nothing but its own files: no inline script or
// style, no frames, no other host.
const policy = "default-src 'none'; script-src 'self'; style-src 'self'; font-src 'self'; " +
	"img-src 'self' data:; connect-src 'self'; form-action 'none'; base-uri 'none'; frame-ancestors 'none'"

// guard lets only this machine's own pages in.
//
// A page of any site can make the browser send requests to the loopback, and
// a name under a stranger's control can be made to lead there. So the Host must
// be one of the loopback's own names with the port listened at, and what comes
// from another origin is refused, reading included.
func guard(next http.Handler) http.Handler {
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
		if !ownHost(r) {
			http.Error(w, "This server answers to localhost, 127.0.0.1 and [::1] only.", http.StatusMisdirectedRequest)
			return
		}
		if !ownOrigin(r) || cross.Check(r) != nil {
			http.Error(w, "This server does not answer to the pages of other sites.", http.StatusForbidden)
			return
		}
		r.Body = http.MaxBytesReader(w, r.Body, maxBody)
		next.ServeHTTP(w, r)
	})
}

// ownHost tells whether the request names this server by a name that is the
// loopback's own, and by the port that it came in at.
func ownHost(r *http.Request) bool {
	name, port, err := net.SplitHostPort(r.Host)
	if err != nil { // no port: the browser leaves 80 out
		name, port = strings.Trim(r.Host, "[]"), "80"
	}
	switch name {
	case "localhost", "127.0.0.1", "::1":
	default:
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
