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

// Name returns the column's name in the workspace's files: "tmax_c", "rain_mm",
// "rh_mean" and so on. It is "" for what is no column.
func (c Column) Name() string {
	switch c {
	case TmaxC:
		return "tmax_c"
	case TminC:
		return "tmin_c"
	case RainMM:
		return "rain_mm"
	case RHMeanPct:
		return "rh_mean"
	case RHMaxPct:
		return "rh_max"
	case RHMinPct:
		return "rh_min"
	case DewC:
		return "dew_c"
	case WindMS:
		return "wind_ms"
	case GustMS:
		return "gust_ms"
	case SunH:
		return "sun_h"
	case SolarMJ:
		return "solar_mj"
	case CloudPct:
		return "cloud_pct"
	case Soil5C:
		return "soil5_c"
	case Soil10C:
		return "soil10_c"
	case WetH:
		return "wet_h"
	case SnowMM:
		return "snow_mm"
	case SnowDepthMM:
		return "snow_depth_mm"
	}
	return ""
}
