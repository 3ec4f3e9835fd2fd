// Package outfit completes a build: the shopping list of its parts, what must be
// bought around them, whether the cells fit a box, and what happens downhill.
//
// Complete does it all. It takes a build, with the catalog and brief that its
// problem holds, and Wishes, which are what the builder decides and no brief
// says. What is needed around the drivetrain is a list of Needs. Each Need has
// its demands in numbers, how they are worked out and from what source, what to
// buy, and the catalog's part that meets every demand: the cheapest, what is
// owned costing nothing, then the lower id. A part is chosen only where it is
// known to meet every demand. Where a number is missing, in the build or in the
// part, the Need has which, and nothing is guessed. A stretch of wires and the plugs
// at its ends, and of the pack's leads the fuse before them, are chosen together.
//
// Nothing is put into words here: what there is to say is a Statement, a code
// with names and quantities, whose words stand where people are spoken to.
//
// The checks are a registry of their own. They judge a finished build with what
// is around it and take no part in the ranking of builds.
//
// # Currents
//
// The peak pack current is the lower of what the controllers are set to draw,
// all motors together, and the pack's discharge limit. The steady one is the
// greatest that holding the climb speed on the target grade, the top speed on
// the flat, or without a known thrust the cruise speed takes, at the pack's
// nominal volts: it is what warms things up, and is never taken as more than
// the peak. Where the motors' resistance is not known the peak counts as steady.
//
// A phase wire carries an alternating current. With field-oriented control its
// root mean square is the amplitude, which is what people set, over √2. With
// six-step commutation each phase carries the current two thirds of the time:
// √(2/3) of it.
//
// # Limits
//
// Steady temperatures in free air, no bundles, no closed box; a peak warms the
// copper and nothing else. The hub of a
// pulley is taken to be as long as the belt is wide that it takes. Nothing
// here says that a board or a pack is safe or lawful.
//
// Quantities are in SI units, as in package constraints; NaN is not known.
package outfit
