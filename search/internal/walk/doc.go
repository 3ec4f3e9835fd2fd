// Package walk is the engine of the search: it puts every combination of a
// problem's parts through the checks, counts what becomes of each, and shows
// those that pass to visitors. It knows no questions and no scores. A Plan sorts
// the checks; All walks with one visitor for each worker, BestFirst those groups
// alone whose bound is high enough, Waived counts for several briefs at once;
// Choices number the combinations.
//
// # Why the count is exact
//
// A combination is one battery, controller, motor, number of motors, drive
// and wheel. It is rejected under the first check, in the order of the
// registry, that it fails. Each check says which of the six choices it reads.
// So the first failure of a combination is the lowest of four:
//
//	fit     checks on motor, number of motors and drive
//	hub     checks on drive and wheel
//	volts   checks on battery, controller, motor and number of motors
//	joint   everything else
//
// The first three are tested once for each choice they read, not once for
// each combination. Motors (with their number) for which every drive fits
// alike form a class; a class has one histogram of the lowest of fit and hub
// over all drives and wheels, and the pairs of drive and wheel that survive. A
// group of battery, controller, motor and number that fails volts adds its
// class's histogram and all survivors to the counts; one that passes adds the
// histogram, and the joint checks decide the survivors.
//
// # What is sure and what is borderline
//
// For one group, a joint check is of one of three sorts.
//
// With a window: speed, climb, heat and range depend on drive and wheel only
// through the gearing (reduction over rolling radius), the drive's efficiency,
// the rolling resistance and the mass, and a check passes in one range of
// gearings, which shrinks as mass and resistance grow and efficiency falls.
// The survivors are therefore sorted into lanes of pairs that ask much the
// same, each sorted by gearing. The window of a lane's heaviest and hardest
// corner, with a little more demanded, holds only gearings that surely pass;
// outside the window of its lightest and easiest corner, with a little less
// demanded, every gearing surely fails. Bisection finds the four places where
// these begin and end, and they cut the lane into segments. In a segment each
// such check is decided for every pair, or is borderline for all of them.
//
// With a sum: price and mass are sums of a number of the group and one of the
// pair, and so is the mass that a belt or a gear drive bears less the mass it
// carries. Comparing a pair's number with what the group leaves of the limit
// decides it, unless the two are so near that rounding could. The height of the
// motor's can above the ground is such a sum too, and has a second one: that of a
// shaft as low as it may stand, beyond which the check is undecided.
//
// Two things do not shrink so by themselves. What stops and ascent take of a ride
// may be less where the rolling resistance is greater, since more of the power then
// reaches the road; a lane therefore tells the resistance at its other end as well,
// and its windows take the worse of the two. And a motor is hotter at the top of a
// hill both for too low a gearing, by its current, and for too high a one, by what
// it takes at no load: its temperature is a convex function of the gearing, so that
// it has a window too.
//
// With a core: the launch time is a convex function of the logarithm of the gearing, so
// that a range of gearings passes, but finding its ends takes a dozen integrals. It is
// found once for an electrical group and all lanes of like rolling resistance and
// efficiency, of the heaviest of them, and not before a dozen pairs of the group have been
// tested. In it every pair surely passes, outside every pair is tested.
//
// With neither: the torque on the hill, the stop and the checks of a
// route. The last tell of most builds at little cost what is sure (Check.Sure).
//
// In a segment the first check that surely rejects, or that is not sure, is
// known. Pairs surely rejected are counted by subtraction of positions;
// borderline ones, and those that reach a check of the third sort, are
// assembled and put through the exact tests of the registry, one by one, but for
// those tests that windows and sums say they surely pass. So a window or a sum never
// decides a pair that the exact test could decide otherwise, every pair is counted
// exactly once, and a check without window or sum costs time, never correctness.
//
// The plain search in the tests, every combination and every check, is what
// this one must equal: counts, order and bits.
package walk
