package cli

import "github.com/spf13/cobra"

// notThere lists the commands that are known and not built yet.
func notThere() []string {
	return []string{"new", "blank", "page", "paper"}
}

// newLaterCmd makes a command that says that it is not there yet, whatever
// flags it is given.
func newLaterCmd(name string) *cobra.Command {
	return &cobra.Command{
		Use:                name,
		DisableFlagParsing: true,
		RunE: func(*cobra.Command, []string) error {
			return &mistake{says: name + " is not there yet; so far there are survey, check, hose, largest and whatif"}
		},
	}
}
