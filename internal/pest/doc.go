// Package pest holds disease, weed and insect models and how their daily
// values become the week's. It is the weather that is judged, never the lawn:
// a favorable week is a reason to go and look. It does not know law or pages.
package pest
