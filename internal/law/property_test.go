package law

import (
	"fmt"
	"slices"
	"testing"

	"pgregory.net/rapid"

	"ligule/internal/civil"
)

// Random law for properties that must hold of any.

func genDate(from, to string) *rapid.Generator[civil.Date] {
	return rapid.Map(rapid.Int32Range(int32(day(from)), int32(day(to))), func(n int32) civil.Date { return civil.Date(n) })
}

func genAnchor() *rapid.Generator[Anchor] {
	return rapid.Custom(func(t *rapid.T) Anchor {
		m := rapid.IntRange(1, 12).Draw(t, "month")
		var s string
		switch rapid.IntRange(0, 2).Draw(t, "anchor") {
		case 0:
			s = civil.MonthDay{Month: m, Day: rapid.IntRange(1, civil.DaysInMonth(2024, m)).Draw(t, "day")}.String()
		case 1:
			s = fmt.Sprintf("%02d-last", m)
		default:
			s = fmt.Sprintf("nth:%s-%s-%02d%s", rapid.SampledFrom([]string{"1", "2", "3", "4", "last"}).Draw(t, "n"),
				rapid.SampledFrom(Weekdays()).Draw(t, "weekday"), m, rapid.SampledFrom([]string{"", "+1d", "-9d", "+40d", "-40d"}).Draw(t, "offset"))
		}
		a, err := ParseAnchor(s)
		if err != nil {
			t.Fatal(err)
		}
		return a
	})
}

func genWhen() *rapid.Generator[When] {
	return rapid.Custom(func(t *rapid.T) When {
		w := When{Kind: rapid.SampledFrom([]string{"annual", "annual", "annual", "dates", "after_planting", "declared", "season"}).Draw(t, "kind")}
		switch w.Kind {
		case "annual":
			w.FromAnchor, w.ToAnchor = genAnchor().Draw(t, "from"), genAnchor().Draw(t, "to")
			w.Bounds = rapid.SampledFrom(boundsWords()).Draw(t, "bounds")
			w.BoundsBasis = rapid.SampledFrom(basisWords()).Draw(t, "basis")
		case "dates":
			w.From = genDate("2025-06-01", "2027-06-01").Draw(t, "from")
			w.To = w.From.AddDays(rapid.IntRange(0, 90).Draw(t, "length"))
			w.Bounds = rapid.SampledFrom(boundsWords()).Draw(t, "bounds")
		case "after_planting":
			w.Days.From = rapid.IntRange(0, 60).Draw(t, "from day")
			w.Days.To = w.Days.From + rapid.IntRange(0, 60).Draw(t, "days")
		case "declared":
			w.Name = "order"
		case "season":
			w.Name, w.Side = "growing", rapid.SampledFrom([]string{"inside", "outside"}).Draw(t, "side")
		}
		return w
	})
}

func genLimit(t *rapid.T, name string, high float64) *float64 {
	return num(rapid.Float64Range(0, high).Draw(t, name))
}

func genRule(id string) *rapid.Generator[Rule] {
	return rapid.Custom(func(t *rapid.T) Rule {
		r := Rule{
			ID:      id,
			Effect:  rapid.SampledFrom([]Effect{"ban", "ban", "ban", "cap", "require", "advise"}).Draw(t, "effect"),
			Topic:   rapid.SampledFrom(topics()).Draw(t, "topic"),
			Targets: []string{rapid.SampledFrom([]string{"N", "P", "any", "always"}).Draw(t, "target")},
			Binds:   []Actor{rapid.SampledFrom([]Actor{"all", "all", Homeowner, ForHire, Retailer}).Draw(t, "binds")},
			When:    rapid.SliceOfN(genWhen(), 0, 2).Draw(t, "when"),
		}
		pick := func(name string, from []string) []string {
			return rapid.SliceOfNDistinct(rapid.SampledFrom(from), 0, 2, rapid.ID).Draw(t, name)
		}
		r.ExemptSites, r.ExemptProducts = pick("sites", sites()[:2]), pick("exempt products", classes()[:3])
		if rapid.Bool().Draw(t, "narrow") {
			r.OnlyForms, r.OnlyProducts = pick("forms", Forms()), pick("products", classes()[:3])
		}
		if rapid.Bool().Draw(t, "dated") {
			r.EffectiveFrom = genDate("2025-06-01", "2026-12-01").Draw(t, "effective from")
			r.EffectiveTo = r.EffectiveFrom.AddDays(rapid.IntRange(0, 400).Draw(t, "in effect"))
		}
		if len(r.When) > 0 && r.When[0].Kind == "annual" && rapid.Bool().Draw(t, "overridden") {
			from := genDate("2026-01-01", "2026-12-31").Draw(t, "override")
			r.Overrides = []Override{{Season: 2026, From: from, To: from.AddDays(rapid.IntRange(0, 60).Draw(t, "length")), Bounds: "[]"}}
		}
		switch r.Effect {
		case "ban":
			switch r.Topic {
			case "weather":
				r.Alerts, r.Ground = []string{"Flood Watch"}, pick("ground", grounds())
				r.RainIn, r.RainHours, r.RainCompare, r.RainBasis = genLimit(t, "rain", 3), 24, ">=", "forecast"
			case "buffer":
				r.BufferFt = genLimit(t, "buffer", 50)
				r.ExemptPlantingDays = &DayRange{30, 89}
			case "phosphorus":
				r.Unless, r.SoilTestMaxAgeMonths = pick("unless", exceptions()), rapid.IntRange(0, 36).Draw(t, "months")
			}
		case "cap":
			r.PerAppTotalNLb1000, r.MinSlowPct = genLimit(t, "cap", 2), genLimit(t, "slow", 100)
		case "require", "advise":
			r.Duty = ownWords
		}
		return r
	})
}

var chainOfFour = []string{"state", "county", "town", "district"}

func genRecord(id, jurisdiction string) *rapid.Generator[*Record] {
	return rapid.Custom(func(t *rapid.T) *Record {
		r := &Record{
			Header: Header{ID: id, Jurisdiction: jurisdiction,
				AppliesIn:     rapid.SampledFrom([]string{"all", "all", "unincorporated"}).Draw(t, "applies in"),
				EffectiveFrom: genDate("2024-01-01", "2026-09-01").Draw(t, "effective from"),
				Verification:  rapid.SampledFrom(Verifications()).Draw(t, "verification"),
				CheckedOn:     genDate("2025-01-01", "2026-03-01").Draw(t, "checked"),
				ReviewMonths:  12},
			Status: rapid.SampledFrom([]Status{"in_force", "in_force", "in_force", "in_force", "stayed", "proposed"}).Draw(t, "status"),
		}
		if rapid.Bool().Draw(t, "ends") {
			r.EffectiveTo = r.EffectiveFrom.AddDays(rapid.IntRange(0, 900).Draw(t, "in force"))
			r.LapseConfirmed = rapid.Bool().Draw(t, "lapse confirmed")
		}
		from := genDate("2026-01-01", "2026-12-31").Draw(t, "order")
		r.Declarations = []Declaration{
			{Name: "order", From: from, To: from + 20},
			{Name: "order", From: from + 30, AssumeUntil: from + 60},
		}
		for i := range rapid.IntRange(0, 5).Draw(t, "rules") {
			r.Rules = append(r.Rules, genRule(fmt.Sprintf("r%d", i)).Draw(t, "rule"))
		}
		if len(r.Rules) > 1 && rapid.Bool().Draw(t, "suspends") {
			r.Rules[0].Suspends = []string{"r1"}
		}
		return r
	})
}

func genLines() []Jurisdiction {
	var lines []Jurisdiction
	parent := ""
	for i, id := range chainOfFour {
		lines = append(lines, Jurisdiction{ID: id, Level: levels()[i], Parent: parent, Coverage: "none_found", CheckedOn: day("2026-02-01")})
		parent = id
	}
	return lines
}

func genRecords() *rapid.Generator[[]*Record] {
	return rapid.Custom(func(t *rapid.T) []*Record {
		var out []*Record
		for i := range rapid.IntRange(0, 4).Draw(t, "records") {
			r := genRecord(fmt.Sprintf("law-%d", i), rapid.SampledFrom(chainOfFour).Draw(t, "body")).Draw(t, "record")
			if i == 0 && rapid.Bool().Draw(t, "preempts") {
				r.PreemptTopics = []string{"window", "sale"}
			}
			out = append(out, r)
		}
		return out
	})
}

func genQuestion() *rapid.Generator[Question] {
	return rapid.Custom(func(t *rapid.T) Question {
		chain := chainOfFour[:rapid.IntRange(1, 4).Draw(t, "depth")]
		q := Question{
			Place: Place{Name: "here", Chain: chain},
			Actor: rapid.SampledFrom([]Actor{Homeowner, ForHire, Retailer}).Draw(t, "actor"),
			Date:  genDate("2025-12-01", "2027-03-01").Draw(t, "date"),
			AsOf:  genDate("2026-01-01", "2026-06-01").Draw(t, "as of"),
			Product: rapid.SampledFrom([]Product{
				{Unknown: true, Nutrients: []string{"N"}}, {Unknown: true, Nutrients: []string{"P"}}, {Unknown: true},
				lawn50, urea, start, org, ironK,
			}).Draw(t, "product"),
		}
		if rapid.Bool().Draw(t, "facts") {
			q.RateLb1000, q.DistanceFt = genLimit(t, "rate", 5), genLimit(t, "distance", 60)
			q.Planted = genDate("2025-12-01", "2026-12-01").Draw(t, "planted")
			q.SoilTest = &SoilTest{genDate("2024-01-01", "2026-06-01").Draw(t, "tested"), true}
			q.Seasons = []Season{{Name: "growing", From: day("2026-04-01"), To: day("2026-10-20")}}
		}
		return q
	})
}

// Nothing that is added to the law of a place can make it weaker, except a
// law that displaces others.
func TestPropertyAddingARecordNeverMakesAVerdictWeaker(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		records, q := genRecords().Draw(t, "records"), genQuestion().Draw(t, "question")
		before := NewBook(records, genLines()).Ask(q)
		more := genRecord("added", rapid.SampledFrom(chainOfFour).Draw(t, "body")).Draw(t, "added")
		after := NewBook(append(slices.Clone(records), more), genLines()).Ask(q)
		if after.Verdict < before.Verdict {
			t.Fatalf("%v became %v", before.Verdict, after.Verdict)
		}
	})
}

// The order in which records are given changes nothing.
func TestPropertyOrderOfRecordsDoesNotMatter(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		records, q := genRecords().Draw(t, "records"), genQuestion().Draw(t, "question")
		shuffled := rapid.Permutation(records).Draw(t, "shuffled")
		if x, y := printed(NewBook(records, genLines()).Ask(q)), printed(NewBook(shuffled, genLines()).Ask(q)); x != y {
			t.Fatalf("%s\n%s", x, y)
		}
	})
}

// printed writes an answer whole.
func printed(a Answer) string {
	s := fmt.Sprint(a.Verdict, a.Silent, a.Flags)
	for _, h := range a.Hits {
		s += "\n" + hitText(h)
	}
	for _, n := range a.Notices {
		s += fmt.Sprint("\n", n.Flag, n.Jurisdiction, recordID(n.Record), ruleID(n.Rule))
	}
	return s
}

func hitText(h Hit) string {
	return fmt.Sprint(h.Jurisdiction, " ", recordID(h.Record), "/", ruleID(h.Rule), " ", h.Verdict, " ", h.Detail, " ", h.Word, " ", h.Limit, " ", h.Found, " ", h.First, " ", h.Last)
}

func recordID(r *Record) string {
	if r == nil {
		return ""
	}
	return r.ID
}

func ruleID(r *Rule) string {
	if r == nil {
		return ""
	}
	return r.ID
}

// Hits come strongest first, the verdict is that of the first, and an answer
// that clears has no doubt among its flags.
func TestPropertyAnswersAreConsistent(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		records, q := genRecords().Draw(t, "records"), genQuestion().Draw(t, "question")
		a := NewBook(records, genLines()).Ask(q)
		strongest := Open
		for i, h := range a.Hits {
			if i > 0 && h.Verdict > a.Hits[i-1].Verdict {
				t.Fatalf("hit %d is stronger than the one before", i)
			}
			strongest = max(strongest, h.Verdict)
			if !h.First.IsZero() && (q.Date < h.First || q.Date > h.Last) {
				t.Fatalf("%s does not lie in the span %s to %s of its own rule", q.Date, h.First, h.Last)
			}
		}
		if strongest != a.Verdict {
			t.Fatalf("verdict %v, strongest hit %v", a.Verdict, strongest)
		}
		for _, f := range a.Flags {
			if a.Verdict < NotCleared && slices.Contains([]Flag{Stale, Unverified, NoRecord, ExpiredNoSuccessor, SeasonUnknown, DeclarationStatusUnknown}, f) {
				t.Fatalf("%v with flag %s", a.Verdict, f)
			}
		}
	})
}

// A week is its seven days, asked one by one, and the next change is the
// first that a day-by-day search finds.
func TestPropertyAWeekIsItsSevenDays(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		records, q := genRecords().Draw(t, "records"), genQuestion().Draw(t, "question")
		b := NewBook(records, genLines())
		rain := rapid.SliceOfN(rapid.Float64Range(0, 3), 7, 7).Draw(t, "rain")
		monday := q.Date
		if rapid.Bool().Draw(t, "weather") {
			q.DailyWeather = func(d civil.Date) *Weather { return &Weather{ForecastRainIn24h: &rain[d-monday]} }
		}
		w := b.Week(q, monday)
		closed, strongest := 0, Open
		for i, got := range w.Days {
			q.Date = monday.AddDays(i)
			if q.DailyWeather != nil {
				q.Weather = q.DailyWeather(q.Date)
			}
			want := b.Ask(q)
			if printed(got) != printed(want) {
				t.Fatalf("%s:\n%s\n%s", q.Date, printed(got), printed(want))
			}
			strongest = max(strongest, want.Verdict)
			if want.Verdict == Closed {
				closed++
			}
		}
		state := strongest.String()
		if closed == 7 {
			state = "closed_all"
		} else if closed > 0 {
			state = "closed_part"
		}
		if w.State != state {
			t.Fatalf("state %s, want %s", w.State, state)
		}
		var want *Change
		q.Weather = nil
		sunday := b.Ask(q).Verdict == Closed
		for range 400 {
			q.Date++
			if is := b.Ask(q).Verdict == Closed; is != sunday {
				want = &Change{Date: q.Date, Opens: !is}
				if is {
					q.Date--
				}
				want.Clear = b.Ask(q).Verdict <= Conditional
				break
			}
		}
		if (want == nil) != (w.Next == nil) || want != nil && *want != *w.Next {
			t.Fatalf("next %v, want %v", w.Next, want)
		}
	})
}

// Closed spans name exactly the days, and the laws of each day, that asking
// day by day finds closed.
func TestPropertyClosedSpansAgreeWithEveryDay(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		b := NewBook(genRecords().Draw(t, "records"), genLines())
		place := Place{Chain: chainOfFour[:rapid.IntRange(1, 4).Draw(t, "depth")]}
		actor := rapid.SampledFrom([]Actor{Homeowner, ForHire, Retailer}).Draw(t, "actor")
		nutrient := rapid.SampledFrom([]string{"N", "P", ""}).Draw(t, "nutrient")
		from := genDate("2026-01-01", "2026-03-01").Draw(t, "from")
		to := from.AddDays(rapid.IntRange(-1, 400).Draw(t, "days"))
		asOf := genDate("2026-01-01", "2027-06-01").Draw(t, "as of")
		spans := b.ClosedSpans(place, actor, nutrient, from, to, asOf)
		for i, s := range spans {
			if s.Last < s.First || s.First < from || s.Last > to || i > 0 && s.First <= spans[i-1].Last+1 {
				t.Fatalf("span %d of %v", i, spans)
			}
		}
		q := Question{Place: place, Actor: actor, AsOf: asOf, Product: Product{Unknown: true}}
		if nutrient != "" {
			q.Product.Nutrients = []string{nutrient}
		}
		for q.Date = from; q.Date <= to; q.Date++ {
			var want, got []string
			for _, h := range b.Ask(q).Closed() {
				want = append(want, h.Record.ID+"/"+h.Rule.ID)
			}
			for _, s := range spans {
				for _, l := range s.Laws {
					if l.First <= q.Date && q.Date <= l.Last {
						got = append(got, l.Record.ID+"/"+l.Rule.ID)
					}
				}
			}
			slices.Sort(want)
			slices.Sort(got)
			if !slices.Equal(want, got) {
				t.Fatalf("%s: spans say %v, the day %v", q.Date, got, want)
			}
		}
	})
}

// What a limit's condition prints is what a question with a rate is held to.
func TestPropertyTheCapPrintedIsTheCapThatBinds(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		records, q := genRecords().Draw(t, "records"), genQuestion().Draw(t, "question")
		q.Product, q.RateLb1000 = lawn50, nil
		b := NewBook(records, genLines())
		limit := -1.0
		for _, c := range b.Conditions(q) {
			if c.Kind == "per_app_total_n" {
				if limit >= 0 {
					t.Fatal("two caps for one product")
				}
				limit = c.Value
			}
		}
		failed := func(lbN float64) bool {
			q.RateLb1000 = num(lbN / 0.24)
			return slices.ContainsFunc(b.Ask(q).Hits, func(h Hit) bool { return h.Detail == "total_n" })
		}
		if limit < 0 {
			if failed(1000) {
				t.Fatal("a cap binds that was not printed")
			}
			return
		}
		if failed(limit) || !failed(limit+0.001) {
			t.Fatalf("printed cap %g does not bind", limit)
		}
	})
}

// Every record that has a say in an answer is among those of the place.
func TestPropertyRecordsOfAPlaceAreThoseThatSpeak(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		records, q := genRecords().Draw(t, "records"), genQuestion().Draw(t, "question")
		b := NewBook(records, genLines())
		of := b.RecordsOf(q.Place, q.Date, q.Date)
		a := b.Ask(q)
		if (len(of) == 0) != a.Silent {
			t.Fatalf("%d records, silent %v", len(of), a.Silent)
		}
		for _, h := range a.Hits {
			if h.Record != nil && !slices.Contains(of, h.Record) {
				t.Fatalf("%s spoke", h.Record.ID)
			}
		}
	})
}

// Inside a closed span a place is closed to whoever asks about the nutrient,
// whatever the weather, distance, rate or planting: those can only close.
func TestPropertyInsideAClosedSpanNothingIsOpen(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		b := NewBook(genRecords().Draw(t, "records"), genLines())
		q := genQuestion().Draw(t, "question")
		q.Product = rapid.SampledFrom([]Product{{Unknown: true, Nutrients: []string{"N"}}, {Unknown: true, Nutrients: []string{"P"}},
			{Unknown: true, Nutrients: []string{"N", "P"}}, {NPct: 24, SlowNPct: 12}, {NPct: 10, P2O5Pct: 10}}).Draw(t, "nutrient")
		q.SoilTest, q.Seasons = nil, nil // facts that lift a closing or tell of a season
		q.Weather = rapid.SampledFrom([]*Weather{nil, {}, {ForecastRainIn24h: num(2.5)}, {Ground: []string{"snow"}}}).Draw(t, "weather")
		nutrient := "N"
		if q.Product.Unknown {
			nutrient = rapid.SampledFrom(q.Product.Nutrients).Draw(t, "letter")
		}
		for _, s := range b.ClosedSpans(q.Place, q.Actor, nutrient, q.Date, q.Date.AddDays(200), q.AsOf) {
			d := s.First.AddDays(rapid.IntRange(0, int(s.Last-s.First)).Draw(t, "day"))
			ask := q
			ask.Date = d
			if a := b.Ask(ask); a.Verdict != Closed {
				t.Fatalf("%s lies in the closed span %s to %s and is %v", d, s.First, s.Last, a.Verdict)
			}
		}
	})
}

// Whatever else a law says, a day within the ban of a law that is in force and
// binds whoever asks is closed.
func TestPropertyABanClosesEveryDayOfItsSpan(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		rec := genRecord("law", "state").Draw(t, "record")
		rec.Status, rec.AppliesIn, rec.EffectiveFrom, rec.EffectiveTo = "in_force", "all", day("2020-01-01"), 0
		w := When{Kind: "annual", FromAnchor: genAnchor().Draw(t, "from"), ToAnchor: genAnchor().Draw(t, "to"),
			Bounds: rapid.SampledFrom(boundsWords()).Draw(t, "bounds"), BoundsBasis: "text"}
		rec.Rules = append(rec.Rules, Rule{ID: "ban", Topic: "window", Effect: "ban", Targets: []string{"N"}, Binds: []Actor{"all"}, When: []When{w}})
		records := append(genRecords().Draw(t, "others"), rec)
		for _, r := range records {
			r.PreemptTopics = nil
		}
		first, last := w.Season(rapid.IntRange(2024, 2028).Draw(t, "season"))
		if last < first {
			return
		}
		q := genQuestion().Draw(t, "question")
		q.Actor, q.Product = Homeowner, Product{Unknown: true, Nutrients: []string{"N"}}
		q.Date = first.AddDays(rapid.IntRange(0, int(last-first)).Draw(t, "day"))
		if a := NewBook(records, genLines()).Ask(q); a.Verdict != Closed {
			t.Fatalf("%s is %v", q.Date, a.Verdict)
		}
	})
}
