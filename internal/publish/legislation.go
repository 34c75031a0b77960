package publish

import (
	"ligule/internal/civil"
	"ligule/internal/law"
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

// legislation lists the real laws of a jurisdiction: those on fertilizer, then
// those on watering. Laws that are only proposed or reported are none to assert.
func (v viewer) legislation(j law.Jurisdiction, asOf civil.Date) []legislation {
	if v.ws.Site.Demo {
		return nil
	}
	var out []legislation
	add := func(name, citation, url string, adopted, from, to civil.Date, force string) {
		l := legislation{
			Context: "https://schema.org", Type: "Legislation", Name: name, Identifier: citation,
			Where: administrative{"AdministrativeArea", j.Name}, URL: url, Force: force, Coverage: coverage(from, to),
		}
		if !adopted.IsZero() {
			l.Adopted = adopted.String()
		}
		out = append(out, l)
	}
	for _, r := range v.ws.Ordinances {
		if r.Jurisdiction != j.ID || r.Fictional || r.Verification == "unverified" || r.Status == "proposed" {
			continue
		}
		add(r.Title, r.Citation, r.SourceURL, r.AdoptedOn, r.EffectiveFrom, r.EffectiveTo, legalForce(r, asOf))
	}
	for _, r := range v.ws.Watering {
		if r.Jurisdiction != j.ID || r.Fictional || r.Verification == "unverified" {
			continue
		}
		force := ""
		if r.Verification == "verified" && !r.Stale(asOf) {
			force = forceBetween(r.EffectiveFrom, r.EffectiveTo, asOf)
		}
		add(waterTitle(r), r.Citation, r.SourceURL, 0, r.EffectiveFrom, r.EffectiveTo, force)
	}
	return out
}

// The values of legislationLegalForce.
const (
	inForce          = "https://schema.org/InForce"
	notInForce       = "https://schema.org/NotInForce"
	partiallyInForce = "https://schema.org/PartiallyInForce"
)

// legalForce is "" unless somebody has read the law itself, and of late. A law
// that a court has put on hold is not in force; one of which a provision is not,
// or not yet, in effect is so in part.
func legalForce(r *law.Record, asOf civil.Date) string {
	if r.Verification != "verified" || r.Stale(asOf) {
		return ""
	}
	switch force := forceBetween(r.EffectiveFrom, r.EffectiveTo, asOf); {
	case force == notInForce, r.Status == "stayed", r.Status == "enjoined":
		return notInForce
	case r.Status != "in_force" && r.EffectiveTo.IsZero(): // repealed or superseded, on a day not on record
		return notInForce
	}
	for _, rule := range r.Rules {
		if forceBetween(rule.EffectiveFrom, rule.EffectiveTo, asOf) == notInForce {
			return partiallyInForce
		}
	}
	return inForce
}

func forceBetween(from, to, asOf civil.Date) string {
	if asOf < from || !to.IsZero() && asOf > to {
		return notInForce
	}
	return inForce
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
