package law

import (
	"cmp"
	"fmt"
	"maps"
	"slices"

	"ligule/internal/civil"
	"ligule/internal/diag"
)

// DueDays is how long ahead a review is announced.
const DueDays = 30

// Lint records what is wrong (errors) or due for attention (warnings) in
// records and jurisdictions as of a day. What shows within one table is found
// by [ReadRecord] already.
func Lint(records []*Record, jurisdictions []Jurisdiction, asOf civil.Date, list *diag.List) {
	l := linter{list: list, asOf: asOf, records: map[string]*Record{}, parents: map[string]string{}, levels: map[string]string{}, recorded: map[string]bool{}}
	for _, r := range records {
		if first, twice := l.records[r.ID]; twice && r.ID != "" {
			list.Errorf(r.PosOf("id"), "give each record its own id", "the id %q is that of %s already", r.ID, first.Pos.File)
			continue
		}
		l.records[r.ID] = r
	}
	for _, j := range jurisdictions {
		if _, twice := l.parents[j.ID]; twice {
			list.Errorf(j.Pos, "keep one line", "jurisdiction %q stands twice", j.ID)
		}
		l.parents[j.ID], l.levels[j.ID] = j.Parent, j.Level
	}
	for _, r := range records {
		l.recorded[r.Jurisdiction] = l.recorded[r.Jurisdiction] || !r.OnPesticides()
		if p, known := l.parents[r.Jurisdiction]; known && p != r.Parent {
			list.Errorf(r.PosOf("parent"), "write the same parent in all places", "the parent of %q is %q elsewhere", r.Jurisdiction, p)
			continue
		}
		l.parents[r.Jurisdiction] = r.Parent
		if level, known := l.levels[r.Jurisdiction]; known && level != r.Level && level != "" && r.Level != "" {
			list.Errorf(r.PosOf("level"), "write the same level in all places", "the level of %q is %q elsewhere", r.Jurisdiction, level)
			continue
		}
		l.levels[r.Jurisdiction] = r.Level
	}
	for _, j := range jurisdictions {
		l.parent(j.ID, j.Parent, j.Pos)
		if j.CheckedOn > asOf {
			list.Errorf(j.Pos, "correct checked_on", "checked on %s, after %s", j.CheckedOn, asOf)
		}
		if j.Coverage == NoneFound && !j.CheckedOn.IsZero() {
			switch due := j.CheckedOn.AddMonths(listReviewMonths); {
			case asOf > due:
				list.Warnf(j.Pos, "look again, then move checked_on", "last looked on %s: no longer counts", j.CheckedOn)
			case due <= asOf.AddDays(DueDays):
				list.Warnf(j.Pos, "look again, then move checked_on", "%q counts as looked up through %s", j.ID, due)
			}
		}
		if j.Level == "county" && j.Coverage == "" && !l.recorded[j.ID] {
			list.Warnf(j.Pos, `add coverage = "none_found" with checked_on, or "not_checked"`, "county %q has neither a record nor a coverage line", j.ID)
		}
	}
	for _, r := range records {
		l.record(r)
	}
}

type linter struct {
	list     *diag.List
	asOf     civil.Date
	records  map[string]*Record
	parents  map[string]string
	levels   map[string]string
	recorded map[string]bool
}

func (l *linter) parent(id, parent string, pos diag.Pos) {
	if parent == "" {
		return
	}
	if _, ok := l.parents[parent]; !ok {
		l.list.Errorf(pos, diag.DidYouMean(parent, slices.Collect(maps.Keys(l.parents))), "unknown parent %q", parent)
		return
	}
	at := id
	for range len(l.parents) + 1 {
		at = l.parents[at]
		if at == "" {
			break
		}
		if at == id {
			l.list.Errorf(pos, "end the chain with parent = \"\"", "%q is its own ancestor", id)
			return
		}
	}
	if own, above := slices.Index(levels(), l.levels[id]), slices.Index(levels(), l.levels[parent]); own >= 0 && above >= own && l.levels[id] != "district" {
		l.list.Errorf(pos, "name what it lies in", "%q is of level %q and cannot lie in %q, of level %q", id, l.levels[id], parent, l.levels[parent])
	}
}

func (l *linter) record(r *Record) {
	l.parent(r.Jurisdiction, r.Parent, r.PosOf("parent"))
	if r.Verification == VerifiedText && slices.Contains([]string{"secondary", "news", "hearsay"}, r.SourceKind) {
		l.list.Errorf(r.PosOf("verification"), `write "secondary" or "unverified", or read the law itself`,
			"a source of kind %q does not verify", r.SourceKind)
	}
	switch {
	case r.SupersededBy == r.ID && r.ID != "":
		l.list.Errorf(r.PosOf("superseded_by"), "name the law that follows", "a record cannot supersede itself")
	case r.SupersededBy != "" && l.records[r.SupersededBy] == nil:
		l.list.Errorf(r.PosOf("superseded_by"), diag.DidYouMean(r.SupersededBy, slices.Collect(maps.Keys(l.records))), "no record %q", r.SupersededBy)
	case r.Status == StatusSuperseded && r.SupersededBy == "":
		l.list.Errorf(r.PosOf("status"), "add superseded_by", "superseded by what?")
	}
	if (r.Status == StatusRepealed || r.Status == StatusSuperseded) && r.EffectiveTo.IsZero() {
		l.list.Errorf(r.PosOf("status"), "add effective_to, its last day in force", "a law that has ended must say when")
	}
	if l.circle(r) {
		l.list.Errorf(r.PosOf("superseded_by"), "end the line with the law in force", "the record supersedes itself in a circle")
	}
	if r.AdoptedOn > l.asOf && r.Status != StatusProposed {
		l.list.Errorf(r.PosOf("adopted_on"), `correct the date, or write status = "proposed"`, "adopted on %s, after %s", r.AdoptedOn, l.asOf)
	}
	r.LintScope(l.levels[r.Jurisdiction], l.list)
	r.Lint(r.Status != StatusProposed, r.SupersededBy == "" && !r.LapseConfirmed && r.Status != StatusRepealed, l.asOf, l.list)
	l.declarations(r)
	for i := range r.Rules {
		l.rule(r, &r.Rules[i])
		for k := range i {
			l.pair(r, &r.Rules[k], &r.Rules[i])
		}
	}
	l.gaps(r)
}

// circle reports whether a record is among those that follow it.
func (l *linter) circle(r *Record) bool {
	at := r
	for range l.records {
		if at = l.records[at.SupersededBy]; at == nil {
			return false
		}
		if at == r {
			return r.SupersededBy != r.ID // told as such
		}
	}
	return false
}

// LintScope records a scope that a jurisdiction of that level cannot have.
func (h *Header) LintScope(level string, list *diag.List) {
	for scope, of := range map[string]string{"unincorporated": "county", "municipal_limits": "municipal", "district_bounds": "district"} {
		if h.AppliesIn == scope && level != of && level != "" {
			list.Errorf(h.PosOf("applies_in"), `write applies_in = "all"`, "%q is a scope of the level %q, and this is of level %q", scope, of, level)
		}
	}
}

// Lint records what is wrong or due in the dates of a law as of a day; reviewed
// says whether it has to be read again, and ends whether its end is to be told.
func (h *Header) Lint(reviewed, ends bool, asOf civil.Date, list *diag.List) {
	if h.CheckedOn > asOf {
		list.Errorf(h.PosOf("checked_on"), "correct the date", "checked on %s, after %s", h.CheckedOn, asOf)
	}
	if !h.EffectiveTo.IsZero() && h.EffectiveTo < h.EffectiveFrom {
		list.Errorf(h.PosOf("effective_to"), "put it on or after "+h.EffectiveFrom.String(), "%s is before effective_from", h.EffectiveTo)
	}
	if h.EffectiveFrom > asOf+NewlyEffectiveDays {
		list.Warnf(h.PosOf("effective_from"), "check the year", "not in effect before %s: until then nothing is asked of it", h.EffectiveFrom)
	}
	lintNear(h.PosOf("effective_from"), "takes effect", h.EffectiveFrom, asOf, list)
	if ends {
		lintNear(h.PosOf("effective_to"), "ends", h.EffectiveTo, asOf, list)
	}
	const remedy = "read the law again, then move checked_on"
	switch next := h.NextReview(); {
	case h.CheckedOn.IsZero() || !reviewed:
	case asOf > next:
		list.Warnf(h.PosOf("checked_on"), remedy, "stale since %s: it closes but no longer clears", next.AddDays(1))
	case next <= asOf.AddDays(DueDays):
		list.Warnf(h.PosOf("checked_on"), remedy, "review due by %s", next)
	}
}

// LintOrder warns of an order without an end that is assumed on through a day.
func LintOrder(pos diag.Pos, order string, assumeUntil, asOf civil.Date, list *diag.List) {
	const remedy = "find out, then add to or move assume_until"
	switch {
	case assumeUntil.IsZero():
	case assumeUntil < asOf:
		list.Warnf(pos, remedy, "%s was assumed on until %s: now unknown", order, assumeUntil)
	case assumeUntil <= asOf.AddDays(DueDays):
		list.Warnf(pos, remedy, "%s is assumed on until %s", order, assumeUntil)
	}
}

// lintNear warns of a day on which a law takes effect or ends, if it is near.
func lintNear(pos diag.Pos, what string, d, asOf civil.Date, list *diag.List) {
	if !d.IsZero() && asOf-NewlyEffectiveDays <= d && d <= asOf+NewlyEffectiveDays {
		list.Warnf(pos, "check that the record is right around that date", "%s on %s", what, d)
	}
}

func (l *linter) declarations(r *Record) {
	used := map[string]bool{}
	for i := range r.Rules {
		for _, w := range r.Rules[i].When {
			if w.Kind != "declared" || w.Name == "" {
				continue
			}
			used[w.Name] = true
			if !slices.ContainsFunc(r.Declarations, func(d Declaration) bool { return d.Name == w.Name }) {
				l.list.Warnf(w.Pos, "add a declaration when an order is made", "no order %q is on file, so the rule is never on", w.Name)
			}
		}
	}
	for _, d := range r.Declarations {
		if !used[d.Name] && d.Name != "" {
			l.list.Errorf(d.Pos, `add a rule with when = [{ kind = "declared" }] of that name`, "no rule hangs on the order %q", d.Name)
		}
		later := slices.ContainsFunc(r.Declarations, func(o Declaration) bool { return o.Name == d.Name && o.From > d.From })
		if d.From <= l.asOf && !later {
			LintOrder(d.Pos, fmt.Sprintf("order %q", d.Name), d.AssumeUntil, l.asOf, l.list)
		}
	}
}

// shortYear and leapYear are the two kinds of year in which windows are
// tried, with a common year after each.
const (
	shortYear = 2025
	leapYear  = 2024
)

func (l *linter) rule(rec *Record, r *Rule) {
	for i := range r.When {
		w := &r.When[i]
		if w.Kind == "annual" {
			LintAnnual(w, rec.Verification, l.list)
		}
		if w.Kind == "after_planting" && w.Days.From == w.Days.To {
			l.list.Warnf(w.Pos, "check the law", "a span of a single day")
		}
	}
	for i := range r.When {
		if slices.ContainsFunc(r.When[:i], func(x When) bool { x.Pos = r.When[i].Pos; return x == r.When[i] }) {
			l.list.Errorf(r.When[i].Pos, "keep one", "the same span twice")
		}
	}
	l.caps(r)
	for i, o := range r.Overrides {
		if slices.ContainsFunc(r.Overrides[:i], func(x Override) bool { return x.Season == o.Season }) {
			l.list.Errorf(o.Pos, "keep one", "season %d is replaced twice", o.Season)
		}
	}
	for _, id := range r.Suspends {
		pos := r.PosOf("suspends")
		var ids []string
		for k := range rec.Rules {
			ids = append(ids, rec.Rules[k].ID)
		}
		switch {
		case id == r.ID:
			l.list.Errorf(pos, "name another rule", "a rule cannot suspend itself")
		case !slices.Contains(ids, id):
			l.list.Errorf(pos, diag.DidYouMean(id, ids), "no rule %q in this record", id)
		case slices.ContainsFunc(rec.Rules, func(o Rule) bool { return o.ID == id && len(o.Suspends) > 0 }):
			l.list.Errorf(pos, "write the spans out instead", "rule %q suspends others itself", id)
		}
	}
	for _, a := range r.Alerts {
		l.alert(r.PosOf("alerts"), a)
	}
	if r.BufferFt != nil && r.Effect == EffectBan && r.MeasuredFrom == "" {
		l.list.Warnf(r.PosOf("buffer_ft"), "add measured_from", "it does not say from where the buffer is measured")
	}
	lintNear(r.PosOf("effective_from"), "takes effect", r.EffectiveFrom, l.asOf, l.list)
	lintNear(r.PosOf("effective_to"), "ends", r.EffectiveTo, l.asOf, l.list)
	if r.MinSlowPct != nil && r.MaxSlowPct != nil && *r.MinSlowPct > *r.MaxSlowPct {
		l.list.Errorf(r.PosOf("min_slow_pct"), "correct one of them", "no product has at least %s %% and at most %s %% slow nitrogen",
			formatFt(*r.MinSlowPct), formatFt(*r.MaxSlowPct))
	}
}

// LintAnnual finds what is wrong with an annual span of a law that is known as
// its verification says. One that could not be read is passed over.
func LintAnnual(w *When, verification Verification, list *diag.List) {
	if !w.FromAnchor.valid() || !w.ToAnchor.valid() {
		return
	}
	a, b := w.anchors(shortYear)
	switch {
	case a == b && w.Bounds != "[]":
		list.Errorf(w.Pos, `write bounds = "[]" for a single day`, "from and to are the same day, and bounds %s leave it out", w.Bounds)
		return
	case a == b:
		list.Warnf(w.Pos, "check the law", "a window of a single day")
	}
	for _, y := range []int{leapYear, shortYear} {
		first, last := w.Season(y)
		next, _ := w.Season(y + 1)
		switch {
		case last < first && a != b:
			list.Errorf(w.Pos, "check the bounds", "no day lies in it")
			return
		case last >= next-1:
			list.Errorf(w.Pos, "leave when out for a rule that always holds", "it covers the whole year")
			return
		}
	}
	if w.BoundsBasis == "assumed" && verification == VerifiedText {
		list.Warnf(w.Pos, "ask the office that enforces it, then write \"agency\"", "the law was read, but its edge days are assumed")
	}
}

// caps finds limits of a rule that are none, or that can never be reached.
func (l *linter) caps(r *Rule) {
	limits := []struct {
		key string
		at  *float64
	}{
		{"per_app_total_n", r.PerAppTotalNLb1000}, {"per_app_soluble_n", r.PerAppSolubleNLb1000}, {"annual_total_n", r.AnnualTotalNLb1000},
		{"max_release_n_per_month", r.MaxReleaseNLb1000Month}, {"per_app_p2o5", r.PerAppPLb1000}, {"annual_p2o5", r.AnnualPLb1000},
	}
	for _, c := range limits {
		if c.at != nil && *c.at == 0 {
			l.list.Errorf(r.PosOf(c.key), `write effect = "ban"`, "a limit of nothing is a ban")
		}
	}
	for _, pair := range [][2]int{{0, 2}, {1, 0}, {1, 2}, {4, 5}} {
		if a, b := limits[pair[0]], limits[pair[1]]; a.at != nil && b.at != nil && *a.at > *b.at {
			l.list.Errorf(r.PosOf(a.key), "correct one of them", "%s lb is more than %s allows, %s lb", formatFt(*a.at), b.key, formatFt(*b.at))
			return
		}
	}
}

func (l *linter) alert(pos diag.Pos, name string) {
	if slices.Contains(alertEvents(), name) {
		return
	}
	if remedy := diag.DidYouMean(name, alertEvents()); remedy != "" {
		l.list.Errorf(pos, remedy, "unknown alert %q", name)
		return
	}
	l.list.Warnf(pos, "use the exact event name of the weather service", "alert %q is not on the weather service's list", name)
}

// pair checks two rules of one record against each other.
func (l *linter) pair(rec *Record, a, b *Rule) {
	if !overlap(a.EffectiveFrom, a.EffectiveTo, b.EffectiveFrom, b.EffectiveTo) {
		return
	}
	if a.ID == b.ID && a.ID != "" {
		l.list.Errorf(b.PosOf("id"), "give each version its own effective_from and effective_to", "two versions of rule %q hold at once", b.ID)
		return
	}
	low, high := a, b
	if low.MinSlowPct == nil {
		low, high = b, a
	}
	if low.MinSlowPct == nil || high.MaxSlowPct == nil || *low.MinSlowPct <= *high.MaxSlowPct ||
		slices.Contains(low.Suspends, high.ID) || slices.Contains(high.Suspends, low.ID) {
		return
	}
	if !sharesActor(a, b) || !shares(a.OnlyForms, b.OnlyForms) || !shares(a.OnlyProducts, b.OnlyProducts) || !sharesDay(rec, a, b) {
		return
	}
	l.list.Errorf(b.PosOf("effect"), "let one suspend the other, or correct a figure",
		"rules %q and %q together ask for at least %s %% and at most %s %% slow nitrogen", a.ID, b.ID,
		formatFt(*low.MinSlowPct), formatFt(*high.MaxSlowPct))
}

// overlap reports whether two ranges, open where zero, share a day.
func overlap(from1, to1, from2, to2 civil.Date) bool {
	return (to1.IsZero() || from2 <= to1) && (to2.IsZero() || from1 <= to2)
}

func sharesActor(a, b *Rule) bool {
	return slices.Contains(a.Binds, "all") || slices.Contains(b.Binds, "all") ||
		slices.ContainsFunc(a.Binds, func(x Actor) bool { return slices.Contains(b.Binds, x) })
}

// shares reports whether two lists, of which an empty one means all, share a
// word.
func shares(a, b []string) bool {
	return len(a) == 0 || len(b) == 0 || slices.ContainsFunc(a, func(x string) bool { return slices.Contains(b, x) })
}

// sharesDay reports whether two rules can be on together, by trying every day
// of a leap year and the year after. Spans that hang on more than the
// calendar count as on.
func sharesDay(rec *Record, a, b *Rule) bool {
	on := func(r *Rule, d civil.Date) bool {
		if slices.ContainsFunc(r.When, func(w When) bool { return w.Kind != "annual" }) {
			return true
		}
		return r.spanAt(rec, d, &Question{}).on
	}
	for d := civil.MustDate(leapYear, 1, 1); d < civil.MustDate(leapYear+2, 1, 1); d++ {
		if on(a, d) && on(b, d) {
			return true
		}
	}
	return false
}

func (l *linter) gaps(r *Record) {
	for _, g := range Unevaluated(r) {
		switch g.What {
		case "ban":
			if g.Rule.Topic == "" {
				continue // its mistake is reported already
			}
			l.list.Warnf(g.Pos, `write effect = "require" with a duty if it forbids a way of doing things`,
				"rule %q: this ban cannot be evaluated, so nothing is cleared while it holds", g.Rule.ID)
		case "rain_depth":
			l.list.Warnf(g.Pos, "add rain_in if the law or its agency gives a figure", "rule %q: rain without a depth can only be printed", g.Rule.ID)
		case "season":
			if g.NotCleared {
				l.list.Warnf(g.Pos, "use dates if the law or its agency gives them",
					"rule %q hangs on each owner's growing season, so nothing is cleared for readers", g.Rule.ID)
			}
		}
	}
}

// LintGrasses warns of a yearly cap for a grass that is not on file: it would
// never be used, and the grass that was meant gets the cap of all others. ids
// are those of the grasses on file.
func LintGrasses(records []*Record, ids []string, list *diag.List) {
	known := map[string]bool{"default": true}
	for _, id := range ids {
		known[grassKey(id)] = true
	}
	for _, r := range records {
		for i := range r.Rules {
			rule := &r.Rules[i]
			for _, g := range slices.Sorted(maps.Keys(rule.AnnualNByGrassLb1000)) {
				if known[g] {
					continue
				}
				remedy := cmp.Or(diag.DidYouMean(g, ids), "use the id of a grass, the name of its file")
				list.Warnf(rule.PosOf("annual_total_n_by_grass"), remedy, "no grass on file is called %q, so its cap is never used", g)
			}
		}
	}
}
