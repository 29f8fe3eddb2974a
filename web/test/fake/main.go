// Command fake serves an invented boat with invented answers, so that the page
// can be tested with every verdict and every kind of block whatever the real
// questions have to say. Its folder is real; what it answers is made up.
package main

import (
	"context"
	"flag"
	"fmt"
	"os"
	"os/signal"

	"thole/internal/web"
)

func main() {
	dir := flag.String("folder", "", "the boat folder to show")
	addr := flag.String("addr", "127.0.0.1:0", "where to listen")
	sound := flag.Bool("sound", false, "leave out the question that cannot be worked out")
	flag.Parse()
	ctx, stop := signal.NotifyContext(context.Background(), os.Interrupt)
	defer stop()
	ready := func(url string) { fmt.Println(url) }
	if err := (web.Page{Searches: searches}).Serve(ctx, *dir, table(*sound), *addr, ready); err != nil {
		fmt.Fprintln(os.Stderr, err)
		os.Exit(1)
	}
}
