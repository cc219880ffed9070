// Package shape is geometry and nothing else: blade sections on stream surfaces, bodies of revolution, closed meshes and
// solids, their mass properties, and the files that hold them. Lengths are metres inside and millimetres in every file.
//
// The axis of every part is z, positive downstream. Everything is built for a rotor that turns the way θ grows, which is
// counterclockwise seen from behind; for a right-handed one it is mirrored.
package shape
