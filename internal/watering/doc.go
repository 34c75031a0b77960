// Package watering holds local law on watering lawns as data and answers what
// it leaves open: on which days and hours, for which lots, at which stage of
// shortage, and how sure the record of it is.
//
// A [Record] is one law of one jurisdiction, read strictly from a file; it
// holds standing schedules, or stages that are declared, or both. A [Book]
// holds all of them beside the fertilizer laws of package law. [Record.Ask]
// answers for one lot at one minute by one law, [Book.Ask] by all laws of a
// place, [Book.Week] for a week, and [Record.Table] gives the rows to print.
// [Lint] finds what is wrong or stale.
//
// As in package law, what is unknown, unverified or stale can close and never
// clears, every layer of law must be met, and silence is not permission.
package watering
