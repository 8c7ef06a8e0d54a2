// Package hearth reads a furnace wall as a thermometer: the depths of its
// layers, each the mark of a temperature, give the temperature of its hot face
// and how far the heat went.
package hearth
