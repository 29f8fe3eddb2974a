package answer

// Cautions that belong to answers. They are part of the answer, not small print.
const (
	CalculatedNotTested = "Calculated, not tested. No calculation replaces inclining her and turning her over in harbour with the load you will row with."
	HatchesShut         = "True only if every hatch is shut and dogged, and everything aboard is tied down."
	NotWithHatchOpen    = "Treat her as not self-righting with any cabin hatch open, whatever the calculation says."
	LocalRules          = "An aid to judgement. Local rules, the authority's inspection, and a qualified surveyor or naval architect come before it."
	OtherBoats          = "Numbers from borrowed rules come from other kinds of boat; they are references, not certificates."
	NotStructure        = "Structure and lamination are not checked here."
)
