package law

import "testing"

func weekly(p Place) Question {
	return Question{Place: p, Actor: Homeowner, Product: Product{Unknown: true, Nutrients: []string{"N"}}, Date: day("2026-04-20"), AsOf: day(usualAsOf)}
}

func BenchmarkAsk(b *testing.B) {
	book, q := inventedBook(b), weekly(vellinport)
	b.ReportAllocs()
	for b.Loop() {
		book.Ask(q)
	}
}

func BenchmarkWeek(b *testing.B) {
	book, q := inventedBook(b), weekly(vellinport)
	monday := day("2026-04-20")
	b.ReportAllocs()
	for b.Loop() {
		book.Week(q, monday)
	}
}

func BenchmarkWeekConditions(b *testing.B) {
	book, q := inventedBook(b), weekly(wendrakeOutside)
	monday := day("2026-04-20")
	b.ReportAllocs()
	for b.Loop() {
		book.WeekConditions(q, monday)
	}
}

func BenchmarkClosedSpansOfAYear(b *testing.B) {
	book := inventedBook(b)
	from, to := day("2026-01-01"), day("2026-12-31")
	b.ReportAllocs()
	for b.Loop() {
		book.ClosedSpans(ivelsay, Homeowner, "N", from, to, from)
	}
}
