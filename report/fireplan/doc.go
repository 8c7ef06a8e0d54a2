// Package fireplan foresees a firing: it takes the furnace that the notebook
// describes and the charge that is planned, or a stated load, and says whether
// it will run, how long it takes, how much charcoal and how many blowers, and
// what goes wrong first.
//
// The physics is phase/furnace's, the charge report/plan's; this package states
// what is assumed where the notebook is silent, and holds the log of past
// firings against itself.
package fireplan
