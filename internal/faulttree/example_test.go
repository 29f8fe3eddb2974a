package faulttree_test

import (
	"context"
	"fmt"
	"log"

	"thole/internal/faulttree"
)

// A boat that makes water by a pump on the battery or by hand, both in one locker.
func Example() {
	tree := faulttree.Tree{
		Events: []faulttree.Event{
			{Name: "desalinator", Needs: []string{"battery"}},
			{Name: "hand pump"},
			{Name: "battery", Kind: faulttree.Battery},
		},
		Causes: []faulttree.Cause{
			{Name: "locker 301 floods", Kind: faulttree.Compartment, Fails: []string{"desalinator", "hand pump"}},
			{Name: "locker 302 floods", Kind: faulttree.Compartment},
		},
		Functions: []faulttree.Function{
			{Gate: faulttree.Gate{Name: "make water", Rule: faulttree.AnyOf, Of: []string{"desalinator", "hand pump"}}, Weight: 5},
		},
	}
	logic, err := faulttree.New(tree)
	if err != nil {
		log.Fatal(err)
	}
	found, err := logic.Cuts(context.Background(), faulttree.Options{Order: 2})
	if err != nil {
		log.Fatal(err)
	}
	for _, cut := range found[0].Cuts {
		fmt.Println(cut)
	}
	mends, err := faulttree.FindMends(context.Background(), tree, []faulttree.Candidate{
		{Name: "a second hand pump in 302", Cost: 90, Change: faulttree.Spare{Of: "hand pump", In: []string{"locker 302 floods"}}},
		{Name: "the hand pump to 302", Cost: 0, Change: faulttree.Move{Item: "hand pump", To: []string{"locker 302 floods"}}},
	})
	if err != nil {
		log.Fatal(err)
	}
	fmt.Println(mends.Singles[0].Name, "- mended by", mends.Singles[0].Candidate)
	// Output:
	// [locker 301 floods]
	// [desalinator hand pump]
	// [hand pump battery]
	// locker 301 floods - mended by 1
}
