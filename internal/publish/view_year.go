package publish

import "ligule/internal/bulletin"

// yearPage is what the page of a zone's year gets.
type yearPage struct {
	Zone     *zoneView
	Year     *bulletin.Year
	Grasses  []grassYearView
	Cautions []bulletin.Caution
}

// grassYearView is the year of a grass with its picture.
type grassYearView struct {
	*grassView
	Year   *bulletin.GrassYear
	Ribbon *ribbonView // nil without weather
}

// yearJobs make /zones/<zone>/year/.
func (e *edition) yearJobs() []job {
	var jobs []job
	for i, z := range e.pressed.Zones {
		zv := e.now.Zones[i]
		h := head{Section: "week", Feeds: []linkView{{zv.Name, zv.Feed}}, Crumbs: []crumb{{Kind: "week", Address: "/"}, {Title: zv.Name, Address: zv.Current}}}
		body := yearPage{Zone: zv, Year: z.Year, Cautions: z.Year.Cautions}
		for j, g := range z.Grasses {
			body.Grasses = append(body.Grasses, grassYearView{zv.Grasses[j], g.Year, e.ribbon(z, g, e.pressed.Date, false)})
		}
		jobs = append(jobs, page(zv.Year, "year", h, body, e.pressed.Date))
	}
	return jobs
}
