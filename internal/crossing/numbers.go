package crossing

// How many passages are made for an answer, and how many for a row of the lever table, where the same draws are made before
// and after and only the difference counts. Whoever asks for the same number is given the same tally.
//
// Good to: with 500 the middle day is known to about a tenth of the spread of the days, the day of 19 in 20 to a quarter of it
// (order statistics); modelling choice
const (
	Passages = 500
	Few      = 120
)
