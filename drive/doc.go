// Package drive is the physics of one electric board: battery, controllers,
// motors, drive and wheels, from volts to road speed. It knows nothing of
// files, parts or prices. Every quantity is in SI units unless its comment says
// otherwise; forces, speeds and currents are those of the whole board unless it
// says "each".
//
// Couple prepares the electrical side once; a Board puts it on the road, and
// its methods are closed forms, or nearly so, that do not allocate.
//
// # Motor
//
// With kv in rpm/V and R the phase-to-phase resistance of the warm winding,
//
//	k = 60/(2π kv)    torque = k (I − I₀)    volts = k ω + I R
//
// I is the DC-equivalent current, I₀ the no-load current, taken as constant.
// With field-oriented control the amperes that people set are phase amplitudes;
// with kv told from the line-to-line peak EMF, I = √3/2 of the amplitude, exact
// for a sinusoidal EMF: the power is 3/2·E·i = k ω I and the copper loss R I².
// With six-step commutation I is the current as set. So every motor current in
// Motor and Controller is multiplied by Electrical.PhaseFactor on the way in,
// the no-load current excepted, which is measured as DC; what Board returns is
// DC-equivalent and is divided by it to be shown. Copper warms as R(T) = R₂₀ (1
// + 0.00393 (T − 20)) (IEC 60028).
//
// # Limits
//
// n motors at duty d draw I_b = n d I/η_c from a pack of V volts and R_p ohms
// through controllers of efficiency η_c. At motor speed ω:
//
//	motor current:  I ≤ the controller's and the motor's limit, the lower
//	voltage:        I ≤ (d V − k ω)/(R + n d² R_p/η_c)
//	power:          R I² + k ω I ≤ P₁ = min(η_c Ī (V − Ī R_p)/n, the motor's limit)
//
// with Ī the lowest of n times the controller's battery current, the pack's
// discharge limit, (V − V_cut)/R_p and V/(2R_p), those known.
//
// # Road
//
// With the reduction N, the rolling radius r and the drive's efficiency η,
//
//	ω = v N/r
//	F(v) = n η (N/r) k (I − I₀) ≥ 0
//	F ≤ κ m g cos θ
//	L(v, θ) = m g (sin θ + Crr cos θ) + ½ρA v²
//
// The top speed is where F = L on the flat: a quadratic for voltage, a square
// root for motor current and grip, and Newton's method on a convex quartic for
// power. The launch is ∫ m dv/(F − L), in closed form but where power binds.
//
// # Belts
//
// Pitch diameter z p/π; belt length L = 2C cos φ + π(D+d)/2 + φ(D−d) with sin φ
// = (D−d)/(2C), solved for C without approximation; wrap on the small pulley π −
// 2φ (Roloff/Matek, Maschinenelemente; ISO 5296).
//
// # Chains
//
// Pitch diameter p/sin(π/z); X = 2C/p + (z₁+z₂)/2 + ((z₂−z₁)/2π)² p/C links; wrap as
// of a belt; between two teeth the chain slows down by 1 − cos(π/z) (ISO 606).
//
// # Wires and braking
//
// A wire's copper is that of its gauge (ASTM B258); the heat of a steady current
// passes the insulation like the wall of a tube and leaves by free convection
// (Churchill & Chu) and radiation, that of a peak stays in the copper (IEC
// 60364-5-54). Braking runs the power back through every loss
// into a pack that takes no more than its charge limit, nor more than raises it
// to the volts of full.
//
// # Sources
//
// Standard gravity: 3rd CGPM, 1901. Atmosphere: ISO 2533. Copper: IEC 60028.
// The motor and load equations are those of any book on electric traction, such
// as Larminie & Lowry, Electric Vehicle Technology Explained. Where a number
// comes from the practice of the trade its comment says so.
//
// # Limits of validity
//
// Quasi-static: no inductance, no ripple, no inertia of rotor and wheels (about
// a twentieth of the mass on a small vehicle).
// No field weakening and no saturation: k is one number. The voltage limit is
// that of the highest duty; a current that sags the pack below half its volts
// could be raised by less duty, which no usable pack comes near. Iron and bearing losses
// are I₀, whatever the speed. The winding is at one temperature, but on a hill of a
// length, at whose end its rise is good to ± 40 %. The pack is a source behind one
// resistance at one state of charge. Drive efficiency does not depend on the load.
// Rolling resistance does not depend on the speed, and wind counts in the energy of
// a ride only. MEASURED.md holds the model against what was measured. Figures are
// estimates for choosing parts, not a statement that a board is safe or lawful to
// ride.
//
// No arithmetic here may be fused into multiply-adds, so that the same build
// gives the same bits on every processor: products that are added to are
// rounded by a conversion, float64(a*b) + c.
package drive
