package main

import (
	"fmt"
	"io"

	"ligule/internal/replay"
	"ligule/internal/workspace"
)

func printReplay(out io.Writer, ws *workspace.Workspace, r *replay.Replay) {
	for _, z := range r.Zones {
		fmt.Fprintln(out, z.Name, z.Weather, z.Years, z.Law)
		for _, g := range z.Grasses {
			fmt.Fprintln(out, " ", g.Name)
			for _, w := range g.Windows {
				fmt.Fprintln(out, "   ", w.ID, w.Opened, w.Over)
			}
			for _, x := range g.Rules {
				fmt.Fprintln(out, "   ", x.ID, x.Pest, x.Total())
			}
			fmt.Fprintln(out, "   ", g.Silent)
		}
	}
	fmt.Fprintf(out, "%+v\n", r.Scouting)
}
