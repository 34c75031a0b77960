package weather

// Column is a quantity of a daily record.
type Column uint8

// The columns, in the order in which a file is written. Temperatures in °C,
// rain and snowfall in mm, relative humidity and cloud in %, wind in m/s,
// sunshine and leaf wetness in h, solar radiation in MJ m⁻² d⁻¹.
const (
	TmaxC       Column = iota // maximum air temperature, °C
	TminC                     // minimum air temperature, °C
	RainMM                    // precipitation, mm
	RHMeanPct                 // mean relative humidity, %
	RHMaxPct                  // maximum relative humidity, %
	RHMinPct                  // minimum relative humidity, %
	DewC                      // mean dew point, °C
	WindMS                    // mean wind speed at the station's anemometer, m/s
	GustMS                    // strongest gust, m/s
	SunH                      // bright sunshine, h
	SolarMJ                   // solar radiation, MJ m⁻² d⁻¹
	CloudPct                  // total cloud over the daylight hours, %
	Soil5C                    // soil temperature at 5 cm, °C
	Soil10C                   // soil temperature at 10 cm, °C
	WetH                      // leaf wetness, h
	SnowMM                    // snowfall, mm of depth
	SnowDepthMM               // depth of snow on the ground, mm
	Columns                   // how many columns there are
)

// columns tells what there is to know of each column.
//
// The bounds are of what a daily value can be, in the column's unit. What lies
// outside is an error of writing or of an instrument. They are common practice,
// no source: wide enough for every record value of the United States, narrow
// enough to catch a wrong unit or a slipped decimal point.
var columns = [Columns]struct {
	name      string // in the workspace's files
	measure   measure
	low, high float64
	element   string // of GHCN-Daily and its relatives; "" for none
	usual     string // names in files of others, in lower case without spaces, punctuation and unit
}{
	TmaxC:       {"tmax_c", temperature, -60, 60, "TMAX", "tmax maxtemp tempmax maxtemperature maximumtemperature temperaturemax high hightemp temperature2mmax airtempmax tx"},
	TminC:       {"tmin_c", temperature, -60, 60, "TMIN", "tmin mintemp tempmin mintemperature minimumtemperature temperaturemin low lowtemp temperature2mmin airtempmin tn"},
	RainMM:      {"rain_mm", rain, 0, 1000, "PRCP", "prcp precip precipitation precipitationsum rain rainfall rainsum"},
	RHMeanPct:   {"rh_mean", percent, 0, 100, "RHAV", "rh rhmean rhavg avgrh humidity humid relh relativehumidity relativehumidity2mmean"},
	RHMaxPct:    {"rh_max", percent, 0, 100, "RHMX", "rhmax maxrh humiditymax relativehumidity2mmax"},
	RHMinPct:    {"rh_min", percent, 0, 100, "RHMN", "rhmin minrh humiditymin relativehumidity2mmin"},
	DewC:        {"dew_c", temperature, -60, 60, "ADPT", "dew dewpoint dewp dwp td dewpoint2mmean"},
	WindMS:      {"wind_ms", speed, 0, 60, "AWND", "wind windspeed avgwind windavg meanwind awnd wspd windspeed10mmean"},
	GustMS:      {"gust_ms", speed, 0, 120, "WSF5", "gust gusts windgust maxgust windgusts10mmax"},
	SunH:        {"sun_h", hours, 0, 24, "TSUN", "sun sunshine sunhours"},
	SolarMJ:     {"solar_mj", light, 0, 45, "", "solar solarradiation srad rs radiation shortwaveradiationsum"},
	CloudPct:    {"cloud_pct", percent, 0, 100, "", "cloud clouds cloudcover cloudcovermean"},
	Soil5C:      {"soil5_c", temperature, -30, 60, "", "soil5 soil2in"},
	Soil10C:     {"soil10_c", temperature, -30, 60, "", "soil10 soil4in"},
	WetH:        {"wet_h", hours, 0, 24, "", "wet wethours leafwetness"},
	SnowMM:      {"snow_mm", snow, 0, 2500, "SNOW", "snow snowfall"},
	SnowDepthMM: {"snow_depth_mm", snow, 0, 12500, "SNWD", "snowdepth snwd"},
}

// Name returns the column's name in the workspace's files: "tmax_c", "rain_mm",
// "rh_mean" and so on. It is "" for what is no column.
func (c Column) Name() string {
	if c >= Columns {
		return ""
	}
	return columns[c].name
}

// limits returns the bounds of what a daily value can be, in the column's unit.
func (c Column) limits() (low, high float64) { return columns[c].low, columns[c].high }

// columnWhere returns the first column that fits, and whether there is one.
func columnWhere(fits func(c Column) bool) (Column, bool) {
	for c := range Columns {
		if fits(c) {
			return c, true
		}
	}
	return 0, false
}
