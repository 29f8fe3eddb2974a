package terminal

import (
	"fmt"
	"io"
	"net"
	"path/filepath"
	"strconv"
	"strings"

	"github.com/spf13/cobra"
)

// The verbs beside the questions: the page, the book, a new folder, and the small ones.

func (v verbs) serve() *cobra.Command {
	var port int
	var quiet bool
	var listen string
	c := &cobra.Command{
		Use:   "serve FOLDER",
		Short: "The page, on this machine only",
		Args:  takes("FOLDER"),
		RunE: func(c *cobra.Command, args []string) error {
			if port < 0 || port > 65535 {
				return misused(c, fmt.Errorf("there is no port %d (0 to 65535)", port))
			}
			ready := func(url string) {
				fmt.Fprintf(v.out, "%s  (Ctrl-C ends it)\n", url)
				if !quiet {
					open(url)
				}
			}
			serve, host := v.t.Serve, "127.0.0.1"
			if listen != "" {
				serve, host = v.t.ServeBeyond, strings.Trim(listen, "[]")
				fmt.Fprintf(v.errs, "Caution: anyone on the network of %s may read this folder and change it, unseen and without a password.\n", host)
			}
			err := serve(c.Context(), args[0], v.t.Table, net.JoinHostPort(host, strconv.Itoa(port)), ready)
			if c.Context().Err() != nil {
				return nil
			}
			return err
		},
	}
	c.Flags().IntVar(&port, "port", 8137, "port of this machine; 0 takes any free one")
	c.Flags().BoolVar(&quiet, "no-open", false, "do not open a browser")
	c.Flags().StringVar(&listen, "listen", "", "an address of this machine on a network, instead of this machine alone: anyone there may read and change the folder")
	return c
}

func (v verbs) book() *cobra.Command {
	var file string
	c := &cobra.Command{
		Use:   "book FOLDER",
		Short: "The book that survives a dead battery: a PDF to print and bind",
		Args:  takes("FOLDER"),
		RunE: func(c *cobra.Command, args []string) error {
			s, err := v.open(args[0], wanted{})
			if err != nil {
				return err
			}
			all, err := s.ask(c.Context(), v.t.Table)
			if err != nil {
				return err
			}
			changes, err := v.changes(c.Context(), args[0], s)
			if err != nil {
				return err
			}
			if file == "" {
				abs, err := filepath.Abs(args[0])
				if err != nil {
					return err
				}
				file = filepath.Base(abs) + ".pdf"
			}
			stamp, err := v.t.Stamp(args[0])
			if err != nil {
				return err
			}
			if file == "-" {
				return v.t.Print(v.out, s.asked, all, changes, stamp)
			}
			if err := writeFile(v.t.files(), file, func(w io.Writer) error { return v.t.Print(w, s.asked, all, changes, stamp) }); err != nil {
				return err
			}
			fmt.Fprintln(v.out, file)
			return nil
		},
	}
	c.Flags().StringVarP(&file, "output", "o", "", "the PDF to write; - writes to standard output (default: the folder's name)")
	return c
}

func (v verbs) start() *cobra.Command {
	return &cobra.Command{
		Use:   "new FOLDER",
		Short: "A folder to begin with",
		Args:  takes("FOLDER"),
		RunE: func(_ *cobra.Command, args []string) error {
			if err := v.t.Start(args[0]); err != nil {
				return err
			}
			fmt.Fprintf(v.out, "%s is begun. Measure, write it down in boat.yaml and the table of offsets, then: thole check %s\n", args[0], args[0])
			return nil
		},
	}
}

func (v verbs) schema() *cobra.Command {
	return &cobra.Command{
		Use:       "schema boat|voyage|trials|whatif",
		Short:     "The JSON Schema of a file, for editors that check while you write",
		ValidArgs: []string{"boat", "voyage", "needs", "trials", "whatif"},
		Args:      takes("boat|voyage|trials|whatif"),
		RunE: func(_ *cobra.Command, args []string) error {
			b := v.t.Schema(args[0])
			if len(b) == 0 {
				return fmt.Errorf("there is no schema of %q (boat, voyage, trials or whatif)", args[0])
			}
			_, err := fmt.Fprintln(v.out, strings.TrimRight(string(b), "\n"))
			return err
		},
	}
}

func (v verbs) version() *cobra.Command {
	return &cobra.Command{
		Use:   "version",
		Short: "Which Thole this is",
		Args:  takes(),
		RunE: func(*cobra.Command, []string) error {
			_, err := fmt.Fprintln(v.out, "thole", v.t.Version)
			return err
		},
	}
}
