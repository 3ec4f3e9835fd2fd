// Package gpx reads recorded ways: GPX 1.1 and 1.0, the open exchange format of
// satellite receivers (https://www.topografix.com/GPX/1/1/).
//
// # What is read
//
// Of the points of all tracks their latitude, longitude and height, in the order of the
// file; of a file without tracks those of its planned routes. Times are left out: how
// fast somebody rode says little of how fast a board should. Distances are those of the
// haversine formula on a sphere. Heights are taken by straight lines between the points
// every route.Grid metres and at the end, and each is then the mean of itself and up to
// two neighbours to either side: receivers find heights to some metres, and a step of
// 3 m on 5 m would be a wall.
//
// # Whose file it is
//
// A file may come from anywhere. The standard library's XML decoder reads it a token at
// a time and expands no entities of a file's own; what is kept of it is a height for
// every route.Grid metres of at most route.MaxLength, whatever its size. Document types,
// elements nested deeper than maxDepth, tokens longer than maxToken, and more than
// MaxPoints or MaxBytes are errors. Points that are wrong are counted by kind of
// mistake, and the first of each kind is told with its place.
package gpx
