// Bodkin sets a novelist's manuscript as a printed book.
//
// Each command is a file here. A command reads a book through package
// bookfile and markup, sets it through typeset, and writes what it found to
// standard output; everything else it has to say goes to standard error.
package main

import (
	"context"
	"errors"
	"fmt"
	"io"
	"os"
	"os/signal"

	"github.com/spf13/cobra"
)

// The exit codes of every command.
const (
	exitFailed = 1 // the work failed
	exitCall   = 2 // the call was wrong
)

func main() { os.Exit(run(os.Args[1:], os.Stdout, os.Stderr)) }

// run runs the program and returns its exit code.
func run(args []string, stdout, stderr io.Writer) int {
	ctx, stop := signal.NotifyContext(context.Background(), os.Interrupt)
	defer stop()
	root := rootCommand()
	root.SetArgs(args)
	root.SetOut(stdout)
	root.SetErr(stderr)
	err := root.ExecuteContext(ctx)
	if err == nil {
		return 0
	}
	if errors.Is(err, context.Canceled) {
		err = errors.New("interrupted; nothing was written")
	}
	fmt.Fprintf(stderr, "bodkin: %v\n", err)
	var wrong *callError
	if errors.As(err, &wrong) {
		return exitCall
	}
	return exitFailed
}

// callError is the error of a call that could not be understood.
type callError struct{ error }

func (e *callError) Unwrap() error { return e.error }

func rootCommand() *cobra.Command {
	root := &cobra.Command{
		Use:   "bodkin",
		Short: "Set a novel as a printed book",
		Long: `Bodkin takes a novelist from manuscript to a printer-ready interior.

It sets the whole book, Markdown chapters in, trim-sized pages out, and counts
the pages that it really set.

Start with    bodkin new my-book
and           bodkin proof my-book`,
		SilenceUsage:  true,
		SilenceErrors: true,
		Args:          noCommand,
		RunE:          func(c *cobra.Command, _ []string) error { return c.Help() },
	}
	root.SetFlagErrorFunc(func(c *cobra.Command, err error) error {
		return &callError{fmt.Errorf("%w; see %s --help", err, c.CommandPath())}
	})
	root.CompletionOptions.HiddenDefaultCmd = true
	root.AddCommand(newCommand(), proofCommand(), castoffCommand(), copyfitCommand(), compareCommand(), shelfCommand(), facesCommand(), spineCommand(), priceCommand(), preflightCommand(), intakeCommand())
	return root
}

// noCommand is the complaint about a command that there is not.
func noCommand(_ *cobra.Command, args []string) error {
	if len(args) > 0 {
		return &callError{fmt.Errorf("there is no command %q; see bodkin --help", args[0])}
	}
	return nil
}

// exactly asks for one argument.
func exactly(what string) cobra.PositionalArgs {
	return func(c *cobra.Command, args []string) error {
		if len(args) != 1 {
			return &callError{fmt.Errorf("%s takes one %s, and got %d; as in: bodkin %s", c.Name(), what, len(args), c.Use)}
		}
		return nil
	}
}

// atLeast asks for one argument or more.
func atLeast(what string) cobra.PositionalArgs {
	return func(c *cobra.Command, args []string) error {
		if len(args) == 0 {
			return &callError{fmt.Errorf("%s takes a %s or several, and got none; as in: bodkin %s", c.Name(), what, c.Use)}
		}
		return nil
	}
}
