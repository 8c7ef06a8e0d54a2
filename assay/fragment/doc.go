// Package fragment takes the diameter of a furnace from the curvature of its
// fragments, and the depths of the layers in its wall off a field sheet.
//
// A small fragment is a short arc: its sagitta, the height of the arc over its
// chord, is a few millimetres and its reading error a good part of that. All
// work is done in curvature, 2/diameter, which is nearly linear in what is read
// and may be none at all (a straight edge); the diameter that comes back has
// limits that are far apart above and close below, and sometimes none above.
package fragment
