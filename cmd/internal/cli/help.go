package cli

import (
	"fmt"
	"strings"

	"github.com/spf13/cobra"
)

func rootUsage() string {
	return "elbowroom COMMAND JOB, as in elbowroom check mytank; elbowroom help says more"
}

const checkUsage = "elbowroom check JOB [--explain] [--json] [-o FILE] [--inches 32|64|decimal] [--without FILE:LINE]"

const surveyUsage = "elbowroom survey JOB [--json] [-o FILE] [--inches 32|64|decimal] [--without FILE:LINE]"

const whatifUsage = "elbowroom whatif JOB --width 7..10:1/4 --height 4..6:1/4 --depth 3..5:1/4 [--at RIGHT,UP] [--csv | --json] [-o PICTURE.svg] [--inches 32|64|decimal] [--without FILE:LINE]"

// helpText is all the help that there is.
func helpText() string {
	return `elbowroom says whether a box goes into a tight space, and how sure that is.

  elbowroom survey JOB  what the readings say, and which look wrong
  elbowroom check JOB   does it go in
      --explain         and where each gap and each uncertainty comes from
  elbowroom whatif JOB  which of many sizes go in
      --width LENGTHS   from 7 to 10 in steps of 1/4: 7..10:1/4; some: 7, 8 1/2
      --height LENGTHS, --depth LENGTHS
      --at RIGHT,UP     the lower left corner, as in "2..3:1/4, 1 1/4"
      --csv             as CSV, in mm, nothing rounded
      -o PICTURE.svg    and a picture: what is held against room to spare
  elbowroom hose JOB [NAME]
                        each hose, or one: its length, bends and gaps
  elbowroom largest JOB the largest box that goes in, and what stops it
      --bare            without fittings;  --outside  by outside volume
      --min width=7     --max depth=4  --hold height=5  --aspect 2:1:1
      --room x=0..12    where the box may be; also y, z (from the face)
      --step 1/16       on the shop's rule, rounded to the safe side
      --turn -15..15    turned, in degrees;  --stand-off 1/4..1
      --top 5           boxes that no other beats in width, height and depth
      --capacity 3l     the least box that holds it: --shallow --short --narrow
      --effort 4        look longer
All take
      --without PLACE   leave out the reading at FILE:LINE, as in tape.csv:7
      --json            as JSON, in mm, nothing rounded
      -o FILE           into a file, whole or not at all (whatif: see there)
      --inches HOW      how inches print: 32 (to 1/32), 64 or decimal [32]
  elbowroom help        this

JOB is a job.yaml, or the folder that holds one.
Not there yet: ` + strings.Join(notThere(), ", ") + `.
Exit code: 0 it clears (whatif: one of them does), or no reading is in doubt; 1
that is not so, not proved, or whatif was stopped; 2 there is something to mend
in the input or the call; 3 a fault of the program.
`
}

func newHelpCmd(a *app) *cobra.Command {
	return &cobra.Command{
		Use:                "help",
		DisableFlagParsing: true,
		RunE: func(*cobra.Command, []string) error {
			fmt.Fprint(a.stdout, helpText())
			return nil
		},
	}
}
