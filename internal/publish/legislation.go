package publish

import (
	"ligule/internal/civil"
	"ligule/internal/reference"
)

// legislation is one law as JSON-LD, a schema.org Legislation: only of real laws,
// never of invented ones. The template package writes it as JSON that no "</" can
// leave.
type legislation struct {
	Context    string         `json:"@context"`
	Type       string         `json:"@type"`
	Name       string         `json:"name"`
	Identifier string         `json:"legislationIdentifier"`
	Where      administrative `json:"jurisdiction"`
	Adopted    string         `json:"legislationDate,omitempty"`
	// Force is left out where nobody has read the law itself of late.
	Force    string `json:"legislationLegalForce,omitempty"`
	Coverage string `json:"temporalCoverage,omitempty"`
	URL      string `json:"url,omitempty"`
}

type administrative struct {
	Type string `json:"@type"`
	Name string `json:"name"`
}

// The values of legislationLegalForce.
var legalForces = map[reference.Force]string{
	reference.InForce:          "https://schema.org/InForce",
	reference.NotInForce:       "https://schema.org/NotInForce",
	reference.PartiallyInForce: "https://schema.org/PartiallyInForce",
}

// Legislation lists the real laws of a jurisdiction, for machines: those on
// fertilizer, then those on watering. Laws that are only proposed or reported are
// none to assert.
func (j jurisdictionPage) Legislation() []legislation {
	var out []legislation
	add := func(l reference.Law, asserted bool, adopted civil.Date) {
		if !asserted {
			return
		}
		one := legislation{
			Context: "https://schema.org", Type: "Legislation", Name: l.Title, Identifier: l.Citation,
			Where: administrative{"AdministrativeArea", j.Name}, URL: l.URL, Force: legalForces[l.Legal], Coverage: coverage(l.From, l.To),
		}
		if !adopted.IsZero() {
			one.Adopted = adopted.String()
		}
		out = append(out, one)
	}
	for _, r := range j.Records {
		add(r.Law, r.Asserted, r.Adopted)
	}
	for _, r := range j.Watering {
		add(r.Law, r.Asserted, 0)
	}
	return out
}

// coverage is the time for which a law holds as an interval of ISO 8601, open at
// its end if none is on record.
func coverage(from, to civil.Date) string {
	switch {
	case from.IsZero():
		return ""
	case to.IsZero():
		return from.String() + "/.."
	}
	return from.String() + "/" + to.String()
}
