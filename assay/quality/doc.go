// Package quality holds the rules by which a laboratory's work is judged:
// totals, reference materials, duplicates, blanks, control charts, the line
// between two methods, and the search for slips of the pen in a table. It works
// on plain numbers; package audit applies it to a campaign.
//
// Amounts are in wt% unless said otherwise. Functions that take a standard
// deviation or an uncertainty take one standard deviation (k = 1).
package quality
