package stage

import (
	"math"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"ligule/data"
	"ligule/internal/agromet"
	"ligule/internal/diag"
	"ligule/internal/quantity"
	"ligule/internal/voice"
)

// speak says things in the phrases that the program was made with.
func speak(t testing.TB) voice.Voice {
	t.Helper()
	var list diag.List
	root, ok := diag.ReadTOML("phrases.toml", data.Phrases, &list)
	require.True(t, ok, list.Error())
	return voice.Voice{Book: voice.ReadBook(root)}
}

func TestDegreeDaysInBothUnits(t *testing.T) {
	v := speak(t)
	assert.Equal(t, "970 degree-days\u00a0°F (539\u00a0°C)", v.Value(Sum(agromet.DegreeDaysC(970), agromet.AverageMethod)))
	assert.Equal(t, "49 warm days", v.Value(Sum(49, agromet.WarmDaysMethod)))
	assert.Empty(t, v.Value(Sum(math.NaN(), agromet.WarmDaysMethod)))
	assert.Empty(t, v.Value(Sum(math.NaN(), agromet.DailyMeanMethod)))
	v.Units = quantity.Metric
	assert.Equal(t, "140 degree-days\u00a0°C (252\u00a0°F)", v.Value(Sum(140, agromet.DailyMeanMethod)))
}

func TestThresholdsAsTheirSourceHasThem(t *testing.T) {
	v := speak(t)
	eight, fifteen, spaced := Density{8, 1, "ft2"}, Density{15, 1, "ft2"}, Density{2, 4, "ft2"}
	assert.Equal(t, "8 to 15 per sq ft", v.Value(Threshold{Low: eight, High: fifteen}.Says()))
	assert.Equal(t, "8 per sq ft", v.Value(Threshold{Low: eight, High: eight}.Says()))
	assert.Equal(t, "2 per 4 sq ft to 8 per sq ft", v.Value(Threshold{Low: spaced, High: eight}.Says()))
	assert.Equal(t, "3 per m²", v.Value(Threshold{Low: Density{3, 1, "m2"}, High: Density{3, 1, "m2"}}.Says()))
}
