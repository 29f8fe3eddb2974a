package main

import (
	"context"
	"fmt"
	"time"

	"thole/internal/answer"
	"thole/internal/model"
	"thole/internal/sheet"
)

// searches is one made-up search, which finds something better ten times a second until its time is up or it is stopped.
var searches = []answer.Search{{
	ID: "stow", Title: "Look for a better stowage", About: "It is invented, and looks at nothing.",
	Run: func(ctx context.Context, _ *answer.Case, seconds float64, found func(answer.Finding)) (answer.Finding, error) {
		gap := 1.0
		best := func(n int) answer.Finding {
			now := gap
			return answer.Finding{Sentence: fmt.Sprintf("Found %d ways to lay it down.", n), Gap: &now}
		}
		n := 0
		for end := time.After(time.Duration(seconds * float64(time.Second))); ctx.Err() == nil; n++ {
			found(best(n))
			select {
			case <-ctx.Done():
				continue
			case <-end:
			case <-time.After(100 * time.Millisecond):
				gap *= 0.9
				continue
			}
			break
		}
		last := best(n)
		last.Done = true
		last.Sheet.Blocks = []sheet.Block{{Table: &sheet.Table{Heading: "What moves", Columns: []sheet.Column{{Name: "what", Text: true}, {Name: "to", Text: true}}, Rows: [][]sheet.Cell{{{Text: "spare flare"}, {Text: "301"}}}}}}
		last.Offers = []answer.Offer{{Name: "the flare to 301", Why: "It has to lie somewhere.", Acts: []model.Act{{Do: model.Put, What: []string{"spare flare"}, From: "aft cabin", To: "301"}}}}
		return last, nil
	},
}}
