// Reads every calendar of a printed site with a parser that is not ours, and
// holds it to what a calendar program relies on.
//
//	node .ci/checks/calendars.mjs SITE
import {readdirSync, readFileSync} from 'node:fs'
import {join} from 'node:path'
import ICAL from 'ical.js'

const site = process.argv[2]
const files = readdirSync(site, {recursive: true}).filter(f => f.endsWith('.ics')).sort()
let faults = 0, events = 0
const names = new Set()
const fault = (file, what) => { faults++; console.error(`${file}: ${what}`) }

ICAL.design.strict = true
for (const file of files) {
	const calendar = new ICAL.Component(ICAL.parse(readFileSync(join(site, file), 'utf8')))
	if (calendar.getFirstPropertyValue('version') !== '2.0' || !calendar.getFirstPropertyValue('prodid')) fault(file, 'no version or product')
	for (const component of calendar.getAllSubcomponents('vevent')) {
		events++
		const event = new ICAL.Event(component)
		const say = what => fault(file, `${event.uid}: ${what}`)
		if (names.has(event.uid)) say('named twice')
		names.add(event.uid)
		if (!event.startDate.isDate || !event.endDate.isDate) say('not of whole days')
		if (event.endDate.compare(event.startDate) <= 0) say('ends before it begins')
		if (component.getFirstPropertyValue('dtstamp')?.zone.tzid !== 'UTC') say('no stamp in UTC')
		if (!event.summary || !event.description) say('says nothing')
		if (/\\[,;n\\]/.test(event.summary + event.description)) say('escaped twice')
		const status = component.getFirstPropertyValue('status'), window = event.uid.startsWith('window.')
		if (window && !['CONFIRMED', 'TENTATIVE'].includes(status)) say(`status ${status}`)
		if (window && !Number.isInteger(event.sequence)) say('no number of its revision')
		if (component.getAllSubcomponents('valarm').length) say('rings')
	}
}
if (!files.length || !events) fault(site, 'no calendar')
console.log(`${files.length} calendars, ${events} events, ${faults} faults`)
process.exit(faults ? 1 : 0)
