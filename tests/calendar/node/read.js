// Reads calendar files (names as arguments) with ical.js and prints, for each, its events with their instants.
// The zone blocks of the file itself are used, and nothing else: no zone is known beforehand.
import { readFileSync } from 'node:fs';
import ICAL from 'ical.js';

function seconds(time) {
  return time.isDate ? null : time.toUnixTime();
}

function read(path) {
  ICAL.TimezoneService.reset();
  const calendar = new ICAL.Component(ICAL.parse(readFileSync(path, 'utf8')));
  for (const zone of calendar.getAllSubcomponents('vtimezone')) {
    ICAL.TimezoneService.register(zone);
  }
  return calendar.getAllSubcomponents('vevent').map((part) => {
    const event = new ICAL.Event(part);
    const first = part.getFirstPropertyValue.bind(part);
    return {
      uid: event.uid,
      summary: event.summary,
      description: event.description,
      location: event.location,
      starts: seconds(event.startDate),
      ends: seconds(event.endDate),
      date: event.startDate.isDate ? [event.startDate.toString(), event.endDate.toString()] : null,
      zone: event.startDate.zone.tzid,
      recurring: event.isRecurring(),
      status: first('status'),
      sequence: event.sequence,
    };
  });
}

console.log(JSON.stringify(process.argv.slice(2).map(read)));
