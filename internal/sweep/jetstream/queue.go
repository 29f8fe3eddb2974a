package jetstream

import (
	"context"
	"encoding/json"
	"errors"
	"fmt"
	"strconv"
	"strings"
	"time"

	"github.com/nats-io/nats.go"
	js "github.com/nats-io/nats.go/jetstream"

	"thole/internal/sweep"
)

// Names on the server.
const (
	partsStream   = "THOLE_PARTS"
	resultsStream = "THOLE_RESULTS"
	filesBucket   = "THOLE_FILES"
	workers       = "workers"
	partsAt       = "thole.parts."
	resultsAt     = "thole.results."
	jobsAt        = "thole.jobs." // a work whose parts are all on the queue
	faultHeader   = "Thole-Fault"
)

// Queue is sweep's queue on a server. It may be used by many goroutines.
type Queue struct {
	nc    *nats.Conn
	js    js.JetStream
	parts js.Consumer
	files js.ObjectStore
	while time.Duration
}

var _ sweep.Queue = (*Queue)(nil)

// Connect reaches a server, and makes the streams where they are not yet.
//
// In:     while is how long a lease lasts, if this is the first to connect; else what the first said
// holds. token is nothing where the server asks for none
// Error:  the server's, with its address
func Connect(ctx context.Context, address, token string, while time.Duration) (*Queue, error) {
	if while < 100*time.Millisecond {
		return nil, fmt.Errorf("sweep: %w: a lease of %v; give a tenth of a second or more", ErrInput, while)
	}
	opts := []nats.Option{nats.Name("thole"), nats.MaxReconnects(-1), nats.ReconnectWait(250 * time.Millisecond), nats.Timeout(5 * time.Second)}
	if token != "" {
		opts = append(opts, nats.Token(token))
	}
	nc, err := nats.Connect(address, opts...)
	if err != nil {
		return nil, fmt.Errorf("sweep: no queue at %s: %w; is it running, and the token right?", address, err)
	}
	q := &Queue{nc: nc}
	if err := q.open(ctx, while); err != nil {
		nc.Close()
		return nil, fmt.Errorf("sweep: the queue at %s has no streams to give (does it run JetStream?): %w", address, err)
	}
	return q, nil
}

func (q *Queue) open(ctx context.Context, while time.Duration) (err error) {
	if q.js, err = js.New(q.nc); err != nil {
		return err
	}
	for _, c := range []js.StreamConfig{
		{Name: partsStream, Subjects: []string{partsAt + ">"}, Retention: js.WorkQueuePolicy, Storage: js.FileStorage},
		{Name: resultsStream, Subjects: []string{resultsAt + ">", jobsAt + ">"}, Storage: js.FileStorage},
	} {
		if _, err = q.js.CreateStream(ctx, c); err != nil && !errors.Is(err, js.ErrStreamNameAlreadyInUse) {
			return err
		}
	}
	q.files, err = q.js.CreateObjectStore(ctx, js.ObjectStoreConfig{Bucket: filesBucket, Storage: js.FileStorage})
	if errors.Is(err, js.ErrBucketExists) {
		q.files, err = q.js.ObjectStore(ctx, filesBucket)
	}
	if err != nil {
		return err
	}
	q.parts, err = q.js.CreateConsumer(ctx, partsStream, js.ConsumerConfig{Durable: workers, AckPolicy: js.AckExplicitPolicy, AckWait: while,
		MaxDeliver: -1, MaxAckPending: 10000})
	if errors.Is(err, js.ErrConsumerExists) {
		q.parts, err = q.js.Consumer(ctx, partsStream, workers)
	}
	if err != nil {
		return err
	}
	q.while = q.parts.CachedInfo().Config.AckWait
	return nil
}

// Close lets go of the server.
func (q *Queue) Close() { q.nc.Close() }

// While is how long a lease lasts.
func (q *Queue) While() time.Duration { return q.while }

// Add puts the parts of one work on the queue.
func (q *Queue) Add(ctx context.Context, parts []sweep.Part) error {
	if len(parts) == 0 {
		return fmt.Errorf("sweep: %w: a work of no parts; split it first", ErrInput)
	}
	job := parts[0].Job
	results, err := q.js.Stream(ctx, resultsStream)
	if err != nil {
		return err
	}
	if _, err := results.GetLastMsgForSubject(ctx, jobsAt+job); err == nil {
		return nil // all there already
	} else if !errors.Is(err, js.ErrMsgNotFound) {
		return err
	}
	for _, p := range parts {
		b, err := json.Marshal(p)
		if err != nil {
			return err
		}
		n := strconv.Itoa(p.Number)
		// Only where none lies yet: a first try at adding may have broken off.
		_, err = q.js.Publish(ctx, partsAt+job+"."+n, b, js.WithExpectLastSequencePerSubject(0))
		var refused *js.APIError
		if errors.As(err, &refused) && refused.ErrorCode == js.JSErrCodeStreamWrongLastSequence {
			continue
		}
		if err != nil {
			return fmt.Errorf("sweep: part %d of %q does not go on the queue: %w", p.Number, job, err)
		}
	}
	_, err = q.js.Publish(ctx, jobsAt+job, []byte(strconv.Itoa(len(parts))))
	return err
}

// putWait is how long is waited for the server's word that a result is kept and its part off the queue.
const putWait = 10 * time.Second

// pause is how long one asking for a message waits at most, so that an end of the context is seen.
const pause = time.Second

// next waits for a message, through losses of the connection.
func (q *Queue) next(ctx context.Context, from js.Consumer) (js.Msg, error) {
	for {
		m, err := from.Next(js.FetchMaxWait(pause))
		if ctx.Err() != nil {
			if err == nil {
				_ = m.Nak() // came too late: at once to another
			}
			return nil, ctx.Err()
		}
		if err == nil {
			return m, nil
		}
		if q.nc.IsClosed() || errors.Is(err, js.ErrConsumerDeleted) || errors.Is(err, js.ErrStreamNotFound) {
			return nil, fmt.Errorf("sweep: the queue is gone: %w", err)
		}
		if !errors.Is(err, nats.ErrTimeout) && !errors.Is(err, js.ErrNoMessages) {
			select { // the server is away: not too often
			case <-ctx.Done():
				return nil, ctx.Err()
			case <-time.After(pause / 4):
			}
		}
	}
}

// Take waits for a part.
func (q *Queue) Take(ctx context.Context) (sweep.Lease, error) {
	for {
		m, err := q.next(ctx, q.parts)
		if err != nil {
			return nil, err
		}
		l := &lease{q: q, m: m}
		if err := json.Unmarshal(m.Data(), &l.part); err != nil {
			_ = m.Term() // not ours, and nobody will ever read it
			continue
		}
		l.tries = 1
		if meta, err := m.Metadata(); err == nil {
			l.tries = int(meta.NumDelivered)
		}
		return l, nil
	}
}

// Results gives each result of a work, from the first.
func (q *Queue) Results(ctx context.Context, job string, take func(sweep.Result) (bool, error)) error {
	from, err := q.js.OrderedConsumer(ctx, resultsStream, js.OrderedConsumerConfig{FilterSubjects: []string{resultsAt + job + ".*"}})
	if err != nil {
		return err
	}
	for {
		m, err := q.next(ctx, from)
		if err != nil {
			return err
		}
		n, err := strconv.Atoi(m.Subject()[strings.LastIndexByte(m.Subject(), '.')+1:])
		if err != nil {
			return fmt.Errorf("sweep: a result at %q has no part's number; forget the work and do it again", m.Subject())
		}
		if more, err := take(sweep.Result{Number: n, Data: m.Data(), Fault: m.Headers().Get(faultHeader)}); err != nil || !more {
			return err
		}
	}
}

// Forget drops what is left of a work.
func (q *Queue) Forget(ctx context.Context, job string) error {
	for _, c := range [][2]string{{partsStream, partsAt + job + ".*"}, {resultsStream, resultsAt + job + ".*"}, {resultsStream, jobsAt + job}} {
		s, err := q.js.Stream(ctx, c[0])
		if err == nil {
			err = s.Purge(ctx, js.WithPurgeSubject(c[1]))
		}
		if err != nil {
			return fmt.Errorf("sweep: %q cannot be forgotten: %w", job, err)
		}
	}
	if err := q.drop(ctx, job); err != nil {
		return fmt.Errorf("sweep: what is kept beside %q cannot be dropped: %w", job, err)
	}
	return nil
}

// lease is a part from the server.
type lease struct {
	q     *Queue
	m     js.Msg
	part  sweep.Part
	tries int
}

func (l *lease) Part() sweep.Part { return l.part }
func (l *lease) Tries() int       { return l.tries }

// Renew asks for more time. The server does not say when it has given the part to another already:
// then both finish, and one is counted.
func (l *lease) Renew(context.Context) error { return l.m.InProgress() }

func (l *lease) Finish(ctx context.Context, data []byte) error {
	return l.put(ctx, &nats.Msg{Data: data})
}

func (l *lease) Fail(ctx context.Context, why string) error {
	why = strings.Join(strings.Fields(why), " ") // a header is one line
	if why == "" {
		why = "failed, and did not say why"
	}
	return l.put(ctx, &nats.Msg{Header: nats.Header{faultHeader: {why}}})
}

// Release asks that the part be given to another at once.
func (l *lease) Release(context.Context) error { return l.m.Nak() }

// put keeps the result first and then takes the part off: who dies between them has the part done
// twice, never lost.
func (l *lease) put(ctx context.Context, m *nats.Msg) error {
	m.Subject = resultsAt + l.part.Job + "." + strconv.Itoa(l.part.Number)
	if most := l.q.nc.MaxPayload(); int64(len(m.Data)) > most-1024 {
		return l.Fail(ctx, fmt.Sprintf("its result is %d bytes and the queue takes %d; make the cells of the map greater, or let the server take more", len(m.Data), most))
	}
	// Whoever gathers may end all work at this very result, before the server's word that it is kept: what is done should be off
	// the queue by then all the same.
	short, stop := context.WithTimeout(context.WithoutCancel(ctx), putWait)
	defer stop()
	if _, err := l.q.js.PublishMsg(short, m); err != nil {
		return fmt.Errorf("sweep: the result of part %d does not go on the queue: %w", l.part.Number, err)
	}
	_ = l.m.DoubleAck(short) // if it does not go through, the part will be done again, and counted once
	return ctx.Err()
}
