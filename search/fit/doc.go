// Package fit finds a rider's own rolling-resistance coefficient and drag area from
// what they recorded: coast-downs, and rides whose energy was metered at the pack.
//
// # Model
//
// A coast-down follows the closed form of drive.Coast, with C = Crr m g, what the
// motors drag that are turned idle, and the road's slope, and D = ½ρA. The speed at
// which each run begins is fitted too, and, where runs go both ways, one slope of the
// road, with its sign. A ride takes what the program computes for it (drive.Ride) at
// the pack's terminals, where meters measure, times the brief's ride factor.
//
// # Method
//
// Least squares by Newton's method with the Hessian of Gauss and Newton, 2JᵀJ. The
// scatter of each kind of record is found from its own residuals, and weighs it:
// metres per second of coast-downs, a share of the metered energy of rides. Fewer
// rides than tell their own scatter are taken to scatter by AssumedScatter at least.
// Residuals of a coast-down that follow each other count as fewer: the
// variance grows by (1 + r)/(1 − r) for their correlation r from one to the next.
// Standard errors come of the Jacobian at the minimum, intervals of Student's t with
// the degrees of freedom of each kind put together by Welch and Satterthwaite. The
// procedure of coast-downs in both directions is that of SAE J1263; runs in one
// direction alone do not tell the rolling resistance from the road's slope, and its
// interval holds AssumedSlope.
//
// # Limits
//
// Still air. The turning masses of rotors and wheels are left out, as in all of the
// program: about a twentieth of the mass on a small vehicle, by which coast-downs give
// both values too small. Rolling resistance does not depend on the speed.
package fit
