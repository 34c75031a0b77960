package disease

import (
	"slices"
	"strings"

	"ligule/internal/pest"
)

// FungicideGroup is one group of the Fungicide Resistance Action Committee in its
// use against a disease.
type FungicideGroup struct {
	Code        string                    // "11", "M05"
	Ingredients pest.Cited[[]string]      // active ingredients met on turf
	Effect      pest.Cited[string]        // "good", "fair", "little" or "not rated"
	Resistant   pest.Cited[bool]          // control was lost where resistant strains occur
	Days        pest.Cited[pest.DayRange] // usual interval of labels
}

// RotationLimits are what a disease asks of the rotation of groups. A label's own
// limits win.
type RotationLimits struct {
	MostInARow pest.Cited[int]  // uses of a group in a row, the mixed ones included
	MostAYear  pest.Cited[int]  // of one group; 0: none told
	TwoGroups  pest.Cited[bool] // trade practice mixes two groups against it
}

// Injury is a caution of a group on a grass.
type Injury struct {
	Grasses []string
	Codes   []string
	Says    Saying
}

// freeOfRotation reports whether a group starts no run: multi-site contacts,
// phosphonates, biologicals and oils. Own design for the phosphonates, which
// CropLife Australia 2019 lists among those to be rotated.
func freeOfRotation(code string) bool {
	return strings.HasPrefix(code, "M") || strings.HasPrefix(code, "BM") || code == "P07" || code == "NC"
}

// Partner is what is known of a group as a partner against a disease.
type Partner uint8

// The kinds of partner.
const (
	PartnerUnknown   Partner = iota // it works; resistance is not ruled out
	PartnerClean                    // it works, and no resistance to it is known
	PartnerResistant                // strains that it no longer controls are known
	PartnerNone                     // it does nothing against this disease
)

// Partner tells of a group what the disease's file does.
func (d *Disease) Partner(code string) Partner {
	i := slices.IndexFunc(d.Groups, func(g FungicideGroup) bool { return g.Code == code })
	switch {
	case i < 0:
		return PartnerNone
	case d.Groups[i].Resistant.Value:
		return PartnerResistant
	}
	return PartnerClean
}

// RotationVerdict is whether groups may follow those on record.
type RotationVerdict string

// The verdicts.
const (
	RotationAllowed RotationVerdict = "allowed"
	RotationMixed   RotationVerdict = "only with a partner" // a second use in a row, with a partner to which no resistance is known
	RotationRefused RotationVerdict = "refused"
)

// Rotation is the verdict on a wish.
type Rotation struct {
	Verdict RotationVerdict
	Code    string // the group that decides; "" when allowed
	Run     int    // uses in a row that contain it, the wish included
	Owed    int    // uses of other groups that are owed before it
}

// Rotate judges the groups of a wish against the treatments of the place, oldest
// first. A mixture is a use of every group in it, another active ingredient of
// the same group is no change, and winter between two uses makes no difference.
//
//   - A group follows itself only with a partner of another group that works on
//     the disease and to which no resistance is known, and at most mostInARow
//     times in a row.
//   - After a run of k uses, k uses of other groups are owed.
//   - Multi-site groups, phosphonates, oils and biologicals are free.
//
// CropLife Australia 2019, Resistance management strategy, turf, for groups 1, 2,
// 4, 7, 11 and 21 and, for uses in a row, 3, 12, 14 and 28; that it is asked of
// every group, the cap of mixtures and the freedom of phosphonates are own
// design. The label's limits win.
func (d *Disease) Rotate(log []pest.Treatment, wish []string, partner func(code string) Partner) Rotation {
	if partner == nil {
		partner = d.Partner
	}
	most := d.Rotation.MostInARow.Value
	if most == 0 {
		most = usualMostInARow
	}
	uses := make([][]string, len(log))
	for i, t := range log {
		uses[i] = t.Groups
	}
	return rotate(uses, wish, most, partner)
}

// usualMostInARow is how many uses in a row labels usually allow; own design, as
// no turf label was read for it.
const usualMostInARow = 2

func rotate(uses [][]string, wish []string, most int, partner func(code string) Partner) Rotation {
	worst := Rotation{Verdict: RotationAllowed}
	for _, code := range wish {
		if freeOfRotation(code) || partner(code) == PartnerNone {
			continue
		}
		r := rotateOne(uses, code)
		switch {
		case r.Run > most:
			r.Verdict = RotationRefused
		case r.Run > 1:
			r.Verdict = RotationRefused
			for _, other := range wish {
				if p := partner(other); other != code && (p == PartnerClean || p == PartnerUnknown) {
					r.Verdict = RotationMixed
				}
			}
		case r.Owed > 0:
			r.Verdict = RotationRefused
		}
		if severity(r.Verdict) > severity(worst.Verdict) {
			worst = r
		}
	}
	return worst
}

func severity(v RotationVerdict) int {
	return slices.Index([]RotationVerdict{RotationAllowed, RotationMixed, RotationRefused}, v)
}

// rotateOne counts, for one group of the wish, the run that it would make and the
// uses of other groups that are owed.
func rotateOne(uses [][]string, code string) Rotation {
	since, run := 0, 0
	i := len(uses) - 1
	for ; i >= 0 && !slices.Contains(uses[i], code); i-- {
		since++
	}
	for ; i >= 0 && slices.Contains(uses[i], code); i-- {
		run++
	}
	r := Rotation{Code: code, Run: 1, Verdict: RotationAllowed}
	switch {
	case run == 0:
	case since == 0:
		r.Run, r.Owed = run+1, run
	default:
		r.Owed = max(0, run-since)
	}
	return r
}
