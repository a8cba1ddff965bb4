package slip

// The priors: about which share of all slips each kind has. Nobody seems to have
// counted; carpenters' and surveyors' own accounts name the kinds, and the
// shares are own judgement, made so that what is told of most often comes first.
// Where a kind can make several texts of one length that are equally likely, each
// gets its part. Where it makes one text of several lengths, as a fraction that
// is left out does, each of those may as well have become it, and has the whole.
// A factor of two in a share hardly matters: the other readings tell slips of an
// inch from slips of a quarter by far more than that.
const (
	// The inch (the centimetre) that a tape is read from, its hook being worn or
	// in the way, is to be taken off: forgotten is the usual way, taken off a
	// reading that had none is the rarer one, and to add it halves that again.
	// Ten inches (ten centimetres) are read from by those who want a round
	// number, and then it is the same slip. Reading the inch before or after
	// the right one gives the same.
	oneBurned    = 0.12
	oneForNone   = 0.05
	oneAdded     = 0.02
	tenBurned    = 0.04
	tenForNone   = 0.015
	tenAdded     = 0.005
	hookPlay     = 0.03 // each way: the hook slides by its own thickness, and sticks
	footMiscount = 0.03 // each way: the red feet of a tape; metres likewise

	// Digits.
	digitsSwapped = 0.06  // for all pairs together
	tensWrong     = 0.02  // each way
	hundredsWrong = 0.01  // each way; of millimetres only
	oneFlipped    = 0.03  // a 6 for a 9, for all of them together
	upsideDown    = 0.015 // the whole number, read off a tape that hung the other way up

	// Fractions: the ticks have no figures on most tapes.
	numeratorWrong   = 0.07  // for all numerators together
	denominatorWrong = 0.07  // for all denominators together
	fractionDropped  = 0.08  // whatever the fraction was
	backFromInch     = 0.025 // 6 5/8 written 7 3/8: counted back, the inch not lowered
	backFromNext     = 0.025 // 7 5/8 written 7 3/8: counted back, the inch lowered
	millimetresLost  = 0.04  // whole centimetres, however many millimetres they were

	// Scales of a tape that has two.
	otherScale = 0.05 // inches for millimetres or centimetres, or the other way, together
	tenfold    = 0.03 // centimetres for millimetres, together

	pointMoved = 0.02 // each way

	// The body of the tape, when it stood in the space that was measured.
	bodyLeftOut = 0.06 // for all bodies together
	bodyForNone = 0.01 // for all bodies together

	signLost = 0.1 // of a coordinate

	lineOff = 0.03 // written in the row of its neighbour, each way
)
