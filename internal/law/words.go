package law

// The words that records use. A word that is not here is a mistake; open
// vocabularies (grasses, claims, where a buffer is measured
// from) are checked for their form alone.

func levels() []string { return []string{"state", "county", "municipal", "district"} }

func sourceKinds() []string {
	return []string{"official_code", "session_law", "agency_page", "secondary", "news", "hearsay"}
}

// Status is how a law stands.
type Status string

// The statuses.
const (
	StatusInForce    Status = "in_force"
	StatusStayed     Status = "stayed"
	StatusEnjoined   Status = "enjoined"
	StatusRepealed   Status = "repealed"
	StatusSuperseded Status = "superseded"
	StatusProposed   Status = "proposed"
)

func statuses() []Status {
	return []Status{StatusInForce, StatusStayed, StatusEnjoined, StatusRepealed, StatusSuperseded, StatusProposed}
}

// Verification is how far a record was checked against the law itself.
type Verification string

// The verifications.
const (
	VerifiedText   Verification = "verified"
	SecondaryText  Verification = "secondary"
	UnverifiedText Verification = "unverified"
)

// Verifications lists them.
func Verifications() []Verification {
	return []Verification{VerifiedText, SecondaryText, UnverifiedText}
}

// Relation is what a law says of those below it.
type Relation string

// The relations.
const (
	Floor    Relation = "floor"
	Preempts Relation = "preempts"
	Silent   Relation = "silent"
)

func relations() []Relation { return []Relation{Floor, Preempts, Silent} }

// Effect is what a rule does.
type Effect string

// The effects.
const (
	EffectBan     Effect = "ban"
	EffectCap     Effect = "cap"
	EffectRequire Effect = "require"
	EffectAdvise  Effect = "advise"
)

func effects() []Effect { return []Effect{EffectBan, EffectCap, EffectRequire, EffectAdvise} }

// Coverage is what a look for the law of a jurisdiction came to; "" where nobody
// says, or where a record stands for it.
type Coverage string

// The coverages.
const (
	NoneFound  Coverage = "none_found"
	NotChecked Coverage = "not_checked"
)

// words are codes as an author writes them.
func words[Code ~string](codes []Code) []string {
	out := make([]string, len(codes))
	for i, c := range codes {
		out[i] = string(c)
	}
	return out
}

func topics() []string {
	return []string{"window", "weather", "rate", "content", "phosphorus", "buffer", "surface", "clippings",
		"equipment", "posting", "license", "records", "sale"}
}

// allTopics are those of fertilizer law, and that of pesticides.
func allTopics() []string { return append(topics(), pesticideTopic) }

// pesticideTopic is the topic of rules on what kills weeds, insects and fungi.
const pesticideTopic = "pesticide"

func targets() []string { return append([]string{"N", "P", "any", "always"}, Pesticides()...) }

// Pesticides are the uses, besides fertilizer, that a record may bar on lawns.
func Pesticides() []string { return []string{"fungicide", "herbicide", "insecticide"} }

func actors() []string {
	return []string{string(Homeowner), string(ForHire), string(Golf), string(Sports), string(Institutional),
		string(PublicAgency), string(Retailer)}
}

func sites() []string {
	return []string{"farm", "sod_farm", "vegetable_garden", "nursery", "greenhouse", "golf_course", "athletic_field", "airport"}
}

func classes() []string {
	return []string{"synthetic", "natural_organic", "enhanced_efficiency", "starter", "repair", "combination", "mineral",
		"lime", "gypsum", "wood_ash", "raw_manure", "manipulated_manure", "compost", "soil_amendment", "pesticide_only"}
}

// BagClasses are the classes of fertilizer that a bag for lawns can be of.
func BagClasses() []string {
	return []string{"synthetic", "natural_organic", "enhanced_efficiency", "starter"}
}

// Forms are the forms of fertilizer that law tells apart.
func Forms() []string { return []string{"granular", "liquid"} }

func exceptions() []string { return []string{"soil_test_p", "new_turf", "repair"} }
func gears() []string {
	return []string{"rotary", "rotary_deflector", "drop_spreader", "targeted_liquid"}
}
func spanKinds() []string   { return []string{"annual", "dates", "after_planting", "declared", "season"} }
func boundsWords() []string { return []string{"[]", "[)", "(]", "()"} }
func basisWords() []string  { return []string{"text", "agency", "assumed"} }
func grounds() []string     { return []string{"frozen", "snow", "saturated"} }
func alertScopes() []string { return []string{"any_part_of_county", "zone"} }

// WaterInDuty is the duty to water in what is spread, on the day of spreading.
const WaterInDuty = "water_in"

// Duties returns the codes of duties, each of which needs its words.
// "as_written" is printed as the law writes it.
func Duties() []string {
	return []string{"sweep_back_now", "deflector_on_rotary", "no_clippings_in_street_or_water", "certified_applicator",
		"sign_24h", "keep_records", "low_maintenance_strip", WaterInDuty, ownWords}
}

// alertEvents are the event names of weather alerts that a fertilizer law can
// mean: storm, flood, wind and winter events of the U.S. National Weather
// Service's list of alert types (from memory, several of them seen in its
// published alerts).
func alertEvents() []string {
	return []string{
		"Blizzard Warning",
		"Coastal Flood Advisory", "Coastal Flood Statement", "Coastal Flood Warning", "Coastal Flood Watch",
		"Extreme Wind Warning",
		"Flash Flood Statement", "Flash Flood Warning", "Flash Flood Watch",
		"Flood Advisory", "Flood Statement", "Flood Warning", "Flood Watch",
		"Freeze Warning", "Freeze Watch", "Freezing Rain Advisory",
		"Hard Freeze Warning", "Hard Freeze Watch",
		"High Wind Warning", "High Wind Watch",
		"Hurricane Force Wind Warning", "Hurricane Force Wind Watch",
		"Hurricane Local Statement", "Hurricane Warning", "Hurricane Watch",
		"Hydrologic Outlook",
		"Ice Storm Warning",
		"Lakeshore Flood Advisory", "Lakeshore Flood Statement", "Lakeshore Flood Warning", "Lakeshore Flood Watch",
		"Severe Thunderstorm Warning", "Severe Thunderstorm Watch", "Severe Weather Statement",
		"Snow Squall Warning", "Special Weather Statement",
		"Storm Surge Warning", "Storm Surge Watch", "Storm Warning", "Storm Watch",
		"Tornado Warning", "Tornado Watch",
		"Tropical Depression Local Statement", "Tropical Storm Local Statement",
		"Tropical Storm Warning", "Tropical Storm Watch",
		"Tsunami Advisory", "Tsunami Warning", "Tsunami Watch",
		"Typhoon Warning", "Typhoon Watch",
		"Wind Advisory", "Winter Storm Warning", "Winter Storm Watch", "Winter Weather Advisory",
	}
}
