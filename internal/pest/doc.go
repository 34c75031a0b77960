// Package pest holds what diseases, weeds and insects have in common: the input
// that they are judged by with its daily record, the assessment that comes of it,
// grades, hosts, figures with their sources, the logs of scouting and treatment,
// and the scores that hold warnings against what was found. It is the weather that
// is judged, never the lawn: a favorable week is a reason to go and look.
package pest
