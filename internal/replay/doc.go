// Package replay runs past years again, week by week, each as of its own issue
// date: what was recorded later, and forecasts that were not on file, do not
// exist for it, unless it is asked that the days that followed stand in for its
// forecast. Out of the weeks it makes, for every zone and grass, when each
// window of the calendar was said to be open and to be over, how often each rule
// spoke, and how the warnings of diseases met what scouts then found. It knows no
// HTML.
//
// What a week can not be given back is the author's files as they stood then:
// rules, figures of grasses and pests, calendars and phrases are those of today.
// So are the records of law, each from the day on that it says itself.
package replay
