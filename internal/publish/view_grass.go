package publish

import (
	"math"

	"ligule/internal/bulletin"
	"ligule/internal/quantity"
)

// grassView is one grass of a zone in one week, with what is drawn of it.
type grassView struct {
	*bulletin.Grass
	Address string // of the grass this week
	Working string // of the working behind it
	Scale   string // the growth index for drawing, never quite 0
}

// leastScale is how high a sward is drawn at least: grass that does not grow
// is still there.
const leastScale = 0.08

func newGrassView(z *zoneView, g *bulletin.Grass) *grassView {
	gv := &grassView{Grass: g, Address: z.Current + g.ID + "/", Working: z.Current + g.ID + "/working/"}
	if g.Growth.Known() {
		gv.Scale = quantity.Fixed(math.Max(leastScale, math.Min(1, float64(g.Growth))), 2)
	}
	return gv
}

// standingAddress is the address of a standing article.
func standingAddress(id, kind string) string {
	switch {
	case kind != "about":
		return "/guides/" + id + "/"
	case id == "about":
		return "/about/"
	}
	return "/about/" + id + "/"
}
