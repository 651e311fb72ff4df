//! Plain problems with exact answers: polarity parity, hold margins, packs, schedules; knows neither kits nor fields.
