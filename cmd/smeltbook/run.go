package main

import (
	"context"
	"errors"
	"fmt"
	"io"
	"runtime/debug"
	"strings"

	"github.com/spf13/cobra"

	"smeltbook/assay/source"
)

// Exit codes: the contract with scripts.
const (
	exitOK   = 0 // all went well
	exitData = 1 // the data have errors, or a result could not be written
	exitCall = 2 // the call is wrong
)

// callError marks an error in how the program was called.
type callError struct{ error }

func (e callError) Unwrap() error { return e.error }

// errData ends a command whose data have errors; they have been printed.
var errData = errors.New("the data have errors")

// streams are where a command reads and writes: results go to out, messages
// to err.
type streams struct {
	in       io.Reader
	out, err io.Writer
}

// run executes one call of the program and returns its exit code.
func run(ctx context.Context, args []string, stdin io.Reader, stdout, stderr io.Writer) int {
	root := newRoot(streams{stdin, stdout, stderr})
	root.SetArgs(args)
	err := root.ExecuteContext(ctx)
	var call callError
	switch {
	case err == nil:
		return exitOK
	case errors.Is(err, errData):
		return exitData
	case errors.Is(err, context.Canceled):
		fmt.Fprintln(stderr, "smeltbook: stopped")
		return exitData
	case errors.As(err, &call):
		fmt.Fprintf(stderr, "smeltbook: %v\n", err)
		return exitCall
	}
	fmt.Fprintf(stderr, "smeltbook: %v\n", err)
	return exitData
}

func newRoot(st streams) *cobra.Command {
	root := &cobra.Command{
		Use:   "smeltbook",
		Short: "Set replica slag beside excavated slag",
		Long: `smeltbook reads a campaign folder - the laboratory's spreadsheets, the field
sheets and notebook.md - and writes one report that sets the products of
experimental copper smelts beside excavated ones, every number with its
uncertainty and the cell it came from.`,
		Version:       version(),
		SilenceErrors: true,
		SilenceUsage:  true,
		Args:          cobra.NoArgs,
		RunE: func(cmd *cobra.Command, _ []string) error {
			return cmd.Help()
		},
	}
	root.SetIn(st.in)
	root.SetOut(st.out)
	root.SetErr(st.err)
	root.CompletionOptions.DisableDefaultCmd = true
	root.SetFlagErrorFunc(func(cmd *cobra.Command, err error) error {
		return callError{fmt.Errorf("%s; see `%s --help`", plainFlagError(err), cmd.CommandPath())}
	})
	root.AddCommand(newStart(st), newCheck(st), newTable(st), newReport(st), newFigure(st), newMelt(st), newCharge(st), newPlan(st), newDeposit(st))
	for _, c := range append(root.Commands(), root) {
		args := c.Args
		c.Args = func(cmd *cobra.Command, a []string) error {
			if err := args(cmd, a); err != nil {
				return callError{fmt.Errorf("%w; see `%s --help`", err, cmd.CommandPath())}
			}
			return nil
		}
	}
	return root
}

// onePath takes exactly one argument, called what in the message.
func onePath(what string) cobra.PositionalArgs {
	return func(_ *cobra.Command, args []string) error {
		switch len(args) {
		case 0:
			return fmt.Errorf("name %s", what)
		case 1:
			return nil
		}
		return fmt.Errorf("name one %s only; %q is too much", strings.TrimPrefix(what, "the "), args[1])
	}
}

// plainFlagError puts the library's complaint about a flag's value into plain
// words.
func plainFlagError(err error) string {
	text := err.Error()
	if before, _, ok := strings.Cut(text, ": strconv."); ok {
		return before + ": give a number"
	}
	return text
}

// version names the build: the module version, or the revision it was built
// from. It holds no time, so that reports stay the same from the same build.
func version() string {
	info, ok := debug.ReadBuildInfo()
	if !ok {
		return "unknown"
	}
	if v := info.Main.Version; v != "" && v != "(devel)" {
		return v
	}
	return "development"
}

// printNotices writes the notices of at least the given severity, one line
// each.
func printNotices(w io.Writer, ns source.Notices, least source.Severity) {
	for _, n := range ns {
		if n.Severity >= least {
			fmt.Fprintf(w, "%s: %s\n", n.Severity, n.Error())
		}
	}
}

// stopAtErrors prints warnings and errors, and ends the command where there
// are errors.
func stopAtErrors(w io.Writer, ns source.Notices) error {
	printNotices(w, ns, source.Warning)
	if !ns.Failed() {
		return nil
	}
	fmt.Fprintln(w, "nothing was written")
	return errData
}
