package law

import (
	"cmp"
	"slices"

	"ligule/internal/civil"
	"ligule/internal/diag"
)

// Header is what a record of local law says of the law as a whole, whatever the
// law is about. Texts are the author's own and are printed as they stand. Optional
// dates are zero when absent.
type Header struct {
	ID           string
	Fictional    bool // must be printed as invented
	Jurisdiction string
	AppliesIn    string // all, unincorporated, municipal_limits, district_bounds
	TZ           string // IANA name

	Title     string
	Citation  string
	SourceURL string

	EffectiveFrom civil.Date // inclusive
	EffectiveTo   civil.Date // inclusive; zero = no end
	Verification  Verification
	CheckedOn     civil.Date
	ReviewMonths  int

	diag.Where
}

// Record is one fertilizer law of one jurisdiction. Optional numbers are nil when
// absent.
type Record struct {
	Header

	JurisdictionName string
	Level            string // state, county, municipal, district
	Parent           string // jurisdiction id; "" at the top
	SourceKind       string // official_code, session_law, agency_page, secondary, news, hearsay

	AdoptedOn      civil.Date
	Status         Status
	SupersededBy   string // record id
	LapseConfirmed bool   // somebody has looked: nothing follows the expiry

	RelationDown      Relation
	PreemptTopics     []string
	GrandfatherBefore civil.Date // a lower law adopted before this day is not preempted

	Enforcement string
	Penalty     string

	Definitions  Definitions
	Declarations []Declaration
	Rules        []Rule
}

// Definitions says which products a law is about.
type Definitions struct {
	NThresholdPct    float64  // a product counts for N if it holds more than this, % of weight
	P2O5ThresholdPct float64  // the same for P, as P2O5
	NotFertilizer    []string // product classes outside the law
}

// Declaration is an order that switches the declared spans of its name on.
type Declaration struct {
	Name        string
	From        civil.Date
	To          civil.Date // inclusive; zero = open-ended
	AssumeUntil civil.Date // of an open-ended order: the last day on which it is taken to be on
	Citation    string
	Pos         diag.Pos
}

// Rule is one provision of a law.
type Rule struct {
	ID        string
	Citation  string // pinpoint within the law
	AsWritten string
	Topic     string // window, weather, rate, content, phosphorus, buffer, surface, clippings, equipment, posting, license, records, sale, pesticide
	Effect    Effect
	Targets   []string // N, P, any, always; of a pesticide rule the uses that it bars
	Binds     []Actor  // or "all"

	ExemptSites    []string
	ExemptProducts []string
	OnlyProducts   []string // classes of products; of a pesticide rule, classes of ingredients
	OnlyForms      []string
	ExemptIf       []string // facts that must be claimed
	ExemptActorsIf []ActorExemption

	When          []When // union; empty = always
	Overrides     []Override
	EffectiveFrom civil.Date // narrower than the record's; zero = the record's
	EffectiveTo   civil.Date
	Suspends      []string // rule ids of the same record that sleep while this rule's span is on

	PerAppTotalNLb1000     *float64           // lb N per 1000 ft2, inclusive
	PerAppSolubleNLb1000   *float64           // lb N per 1000 ft2, inclusive
	AnnualTotalNLb1000     *float64           // lb N per 1000 ft2 and year, inclusive
	AnnualNByGrassLb1000   map[string]float64 // by grass id or "default"
	MaxReleaseNLb1000Month *float64           // lb N per 1000 ft2 and month
	MinSlowPct             *float64           // % of total N, inclusive
	MaxSlowPct             *float64           // % of total N, inclusive
	PerAppPLb1000          *float64           // lb per 1000 ft2, of what PBasis says
	AnnualPLb1000          *float64           // lb per 1000 ft2 and year, of what PBasis says
	PBasis                 string             // P2O5 or P

	Unless               []string // soil_test_p, new_turf, repair
	SoilTestMaxAgeMonths int      // 0 = any age
	NewTurfSeasons       int      // growing seasons that count as new; 0 = one

	BufferFt            *float64
	ReducedFt           *float64
	ReducedWith         []string
	WaivedIfVegetatedFt *float64
	ExemptPlantingDays  *DayRange
	MeasuredFrom        string

	Alerts        []string // exact event names
	AlertScope    string   // any_part_of_county, zone
	RainIn        *float64
	RainHours     int
	RainCompare   string // >= or >
	RainBasis     string // forecast, observed
	Ground        []string
	FrozenDepthIn *float64 // nil = any frost

	Duty string

	diag.Where
}

// OnPesticides reports whether the record is about pesticides. It then says nothing
// of fertilizer, and one on fertilizer nothing of pesticides.
func (r *Record) OnPesticides() bool {
	return slices.ContainsFunc(r.Rules, func(r Rule) bool { return r.Topic == pesticideTopic })
}

// ActorExemption frees an actor who states a fact.
type ActorExemption struct {
	Actor Actor
	Needs string // a claim
}

// DayRange counts days after planting, the day of planting being day 0; both
// ends are inside.
type DayRange struct{ From, To int }

// Holds reports whether a day after planting lies in the range, if there is one.
func (d *DayRange) Holds(n int) bool { return d != nil && d.From <= n && n <= d.To }

// When is a span of time in which a rule is on.
type When struct {
	Kind        string     // annual, dates, after_planting, declared, season
	FromAnchor  Anchor     // annual
	ToAnchor    Anchor     // annual
	From, To    civil.Date // dates
	Bounds      string     // [], [), (], (): which of the two anchor days are inside
	BoundsBasis string     // text, agency, assumed
	Days        DayRange   // after_planting
	Name        string     // declared, season
	Side        string     // season: inside, outside
	Pos         diag.Pos
}

// Override replaces one season of a rule's annual spans.
type Override struct {
	Season   int // year of the season's first anchor
	From, To civil.Date
	Bounds   string
	Citation string
	Pos      diag.Pos
}

func (h *Header) header() *Header { return h }

// Called is what the law is called: its title, or else its citation.
func (h *Header) Called() string { return cmp.Or(h.Title, h.Citation) }

// NextReview returns the last day on which the record counts as current:
// checked_on plus review_months, clamped to the end of a shorter month.
func (h *Header) NextReview() civil.Date { return h.CheckedOn.AddMonths(h.ReviewMonths) }

// Stale reports whether the record is past its review on a day.
func (h *Header) Stale(asOf civil.Date) bool { return asOf > h.NextReview() }
