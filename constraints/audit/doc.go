// Package audit says what a catalog leaves to be wished for: keys that parts do
// not give, with the checks that stay undecided for them (Gaps); data that is
// allowed and unlikely (Doubts); parts that can be in no build (Idle).
//
// It judges by the checks themselves. Which keys a check needs stands in the
// check's value, what is assumed in a key's place comes from package
// constraints, and whether two parts may go together is asked of the checks
// that go by the parts alone, put to a build of these parts (Idle). What is
// around the drivetrain is judged by the demands of package outfit.
//
// A remark is a code, the parts and the key that it is about, and quantities in
// SI units. It has no words: who shows it makes them.
package audit
