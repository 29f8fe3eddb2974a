// Package jetstream is sweep's queue beyond one process: on a NATS server with JetStream, in this
// program or anywhere by its address.
//
// Parts lie in a stream from which a part goes when it is finished; a part whose worker falls silent is
// given to another. Results lie in a second stream until the work is forgotten. Both are on disk.
package jetstream

import (
	"errors"
	"fmt"
	"net"
	"time"

	"github.com/nats-io/nats-server/v2/server"
)

// ErrInput is wrapped by what names the thing, what was given and the mend.
var ErrInput = errors.New("this cannot be worked out as given")

// Server is a NATS server within this program.
type Server struct{ s *server.Server }

// maxPayload is the most bytes of one message of ours, well over a tally's.
const maxPayload = 8 << 20

// Serve starts a server that keeps its streams in a folder.
//
// In:     host and port to listen at; port 0 picks a free one; token that who connects must give:
// needed unless the host is this machine's own
// Error:  ErrInput; the server's
func Serve(folder, host string, port int, token string) (*Server, error) {
	if host == "" {
		host = "127.0.0.1"
	}
	if ip := net.ParseIP(host); token == "" && host != "localhost" && (ip == nil || !ip.IsLoopback()) {
		return nil, fmt.Errorf("sweep: %w: a queue at %s may be reached from outside and has no token; give one, or listen at 127.0.0.1", ErrInput, host)
	}
	if folder == "" {
		return nil, fmt.Errorf("sweep: %w: the queue has no folder to keep parts in; give one", ErrInput)
	}
	if port == 0 {
		port = server.RANDOM_PORT
	}
	s, err := server.NewServer(&server.Options{ServerName: "thole", Host: host, Port: port, Authorization: token, JetStream: true, StoreDir: folder,
		MaxPayload: maxPayload, NoSigs: true, NoLog: true})
	if err != nil {
		return nil, fmt.Errorf("sweep: the queue does not start: %w", err)
	}
	s.Start()
	if !s.ReadyForConnections(10 * time.Second) {
		s.Shutdown()
		return nil, fmt.Errorf("sweep: the queue at %s:%d does not answer; is the port taken? Give another", host, port)
	}
	return &Server{s}, nil
}

// Address is where workers reach it, without the token.
func (s *Server) Address() string { return s.s.ClientURL() }

// Close stops it. What lies in its folder stays.
func (s *Server) Close() {
	s.s.Shutdown()
	s.s.WaitForShutdown()
}
