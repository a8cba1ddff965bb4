// Command elbowroom says whether a box goes into a tight space, and how sure
// that is.
package main

import (
	"os"

	"elbowroom/cmd/internal/cli"
)

func main() { os.Exit(cli.Main()) }
