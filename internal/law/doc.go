// Package law holds local fertilizer law as data and answers
// what it says on a date: what is closed, capped or required, for whom, where,
// and how sure the record of it is.
//
// A [Record] is one law of one jurisdiction, read strictly from a file. A
// [Book] holds all records and the list of jurisdictions; [Book.Ask] answers
// one question for one day, [Book.Week] for a week, [Book.Conditions] gives
// the limits and duties to print, and [Book.ClosedSpans] the closed seasons.
// [Lint] finds what is wrong or stale.
//
// The model errs to the safe side everywhere: what is unknown, unverified or
// stale can close and never clears; every layer of law must be met; an
// exemption must be claimed. Answers are codes and figures; the words that
// print them are kept elsewhere. Units are those of the law: pounds per 1000
// square feet, feet, inches.
package law
