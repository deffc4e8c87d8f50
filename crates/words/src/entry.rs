//! One entry in words.

use asfound_study::Job;
use asfound_study::entry_line::{hear, said_around};
use asfound_study::marks;
use asfound_study::money::Currency;
use asfound_study::plan::tells_money;
use asfound_study::record::{
    Amount1, Body, Hours1, Item, Made1, Mark1, Meter1, Part1, Probing1, Quantity1, Reading1, Standing,
    Sweep1, Testimony1,
};
use asfound_study::wiring::{Statement, how_known, read_line};

use crate::lists::{count, or};
use crate::photograph;
use crate::sheet::FoundLine;
use crate::time::day_and_hour;

/// What an entry says, and the small print under it.
pub fn said(body: &Body, job: &Job) -> (String, String) {
    match body {
        Body::Workshop(body) => (format!("workshop: {}", body.name), String::new()),
        Body::Person(body) => (body.name.clone(), body.role.clone()),
        Body::Meter(body) => {
            (format!("meter {}: {}", body.meter, body.words), body.accuracy.clone().unwrap_or_default())
        }
        Body::JobKnown(body) => (format!("job {} is known", body.number), String::new()),
        Body::Key(body) => ("a signing key came into use".to_owned(), body.why.clone()),
        Body::Seal(body) => ("a paper was sealed".to_owned(), format!("paper {}", short(&body.paper))),
        Body::Job(body) => (format!("job {} opened: {}", body.number, body.title), String::new()),
        Body::Piece(body) => (body.words.clone(), piece_detail(body)),
        Body::Part(body) => {
            (format!("{} {}, at the {}", body.part, name_with_count(body), body.place), body.sort.clone())
        }
        Body::Observed(body) => match &body.part {
            Some(part) => (format!("{}: {}", part_name(job, part), body.words), as_found_word(body.as_found)),
            None => (body.words.clone(), as_found_word(body.as_found)),
        },
        Body::Reading(body) => (
            format!("{} {}", part_name(job, &body.part), shown(&body.shown)),
            reading_detail(
                &body.quantity,
                body.method.as_deref(),
                body.temperature.as_ref(),
                body.meter.as_deref(),
                body.range.as_deref(),
            ),
        ),
        Body::Photograph(body) => {
            let of = body.part.as_ref().map(|part| part_name(job, part));
            let words = match (of, body.caption.as_str()) {
                (Some(part), "") => part,
                (Some(part), caption) => format!("{part}: {caption}"),
                (None, "") => body.name.clone(),
                (None, caption) => caption.to_owned(),
            };
            (words, photograph_detail(body.width, body.taken.as_deref(), &body.name))
        }
        Body::Trace(body) => traced(&body.text),
        Body::Act(body) => {
            let who =
                body.part.as_ref().map_or_else(|| "whole piece".to_owned(), |part| part_name(job, part));
            let parked = body.parked.as_ref();
            let detail =
                parked.map(|parked| format!("parked: {}; try next: {}", parked.stopped, parked.next));
            (format!("done to the {who}: {}", body.words), detail.unwrap_or_default())
        }
        Body::Note(body) => (body.words.clone(), "note".to_owned()),
        Body::Money(body) => {
            (format!("{}: {}", body.words, money(body.minor, &body.currency)), String::new())
        }
        Body::Decided(body) => (body.words.clone(), decision(&body.decision).to_owned()),
        Body::Told(body) => (
            format!("paper issued: {}", body.title),
            format!("{}, {}", short(&body.paper), count(body.statements.len(), "statement", "statements")),
        ),
        Body::Withheld(body) => (format!("entry {} was withheld", body.of.seq), body.ground.clone()),
        Body::Struck(body) => ("struck out".to_owned(), body.why.clone()),
        Body::Sweep(body) => (format!("{} {}", part_name(job, &body.part), body.how), sweep_detail(body)),
        Body::Assumption(body) => {
            (format!("taken for granted: {} is {}", body.name, body.value), body.source.clone())
        }
        Body::Probing(body) => {
            (format!("{} to {} {}", body.from, body.to, shown(&body.shown)), probing_detail(body))
        }
        Body::Mark(body) => (format!("{} is marked on a photograph", body.of), mark_detail(body, job)),
        Body::Wish(body) => (body.words.clone(), "wish".to_owned()),
        Body::Testimony(body) => (testimony(body, job), body.manner.clone()),
        Body::Made(body) => {
            (format!("made here, {}: {}", part_name(job, &body.part), body.words), made(body))
        }
        Body::Terms(body) => (body.words.clone(), body.of.clone()),
        Body::Task(body) => (format!("to do: {}", body.task), body.words.clone()),
        Body::Hours(body) => (hours(body), body.words.clone()),
        Body::Other => ("kept, and not understood by this release".to_owned(), String::new()),
        Body::Gone => ("withheld".to_owned(), String::new()),
    }
}

/// The line that the entry line would take to say the same again; empty where it cannot be typed. A line is answered
/// only if it was heard again and says the same, so that a correction begins from what stands and loses nothing.
pub fn again(body: &Body, job: &Job) -> String {
    if let Body::Mark(mark) = body {
        return Some(mark_line(mark, job)).filter(|line| says(line, body, job)).unwrap_or_default();
    }
    let about = match body {
        Body::Observed(body) => body.part.as_ref(),
        Body::Reading(body) => Some(&body.part),
        Body::Act(body) => body.part.as_ref(),
        Body::Testimony(body) => body.part.as_ref(),
        Body::Made(body) => Some(&body.part),
        _ => None,
    };
    let id = about.map_or("piece", String::as_str);
    let name = about.and_then(|id| job.part(id)).map(|part| part.item.body.name.clone());
    let by_name = name.map(|name| line_about(body, &name));
    let by_id = line_about(body, id);
    let is_kept = about.is_none_or(|id| job.part(id).is_some());
    let said = [by_name, Some(by_id.clone())].into_iter().flatten().find(|line| says(line, body, job));
    // Of a part that is not on record nothing can be heard; the line is then a start for the correction.
    said.unwrap_or_else(|| if is_kept { String::new() } else { by_id })
}

/// The line for an entry, with its part called by this name.
fn line_about(body: &Body, who: &str) -> String {
    match body {
        Body::Part(body) => {
            let count = if body.count > 1 { format!(", {}", body.count) } else { String::new() };
            format!("part {}, {}, {}{count}", body.name, body.sort, body.place)
        }
        Body::Observed(body) => format!("{who}: {}", body.words),
        Body::Reading(body) => {
            let range = body.range.as_ref().map(|range| format!("on {range}"));
            let temperature = body.temperature.as_ref().map(|typed| typed.text.clone());
            let more = [temperature, body.method.clone(), body.meter.clone(), range];
            let more: String = more.into_iter().flatten().map(|text| format!(" {text}")).collect();
            let (before, behind) = said_around(&body.quantity);
            format!("{who} {before}{}{behind}{more}", body.shown.text)
        }
        Body::Probing(body) => {
            let range = body.range.as_ref().map(|range| format!("on {range}"));
            let temperature = body.temperature.as_ref().map(|typed| typed.text.clone());
            let more = [temperature, body.stood.clone(), body.method.clone(), body.meter.clone(), range];
            let more: String = more.into_iter().flatten().map(|text| format!(" {text}")).collect();
            format!("{} {} {}{more}", body.from, body.to, body.shown.text)
        }
        Body::Trace(body) if body.text.lines().count() == 1 => body.text.clone(),
        Body::Act(body) => match &body.parked {
            None => format!("did {who}: {}", body.words),
            Some(parked) => format!("parked {who}: {}; {}; {}", body.words, parked.stopped, parked.next),
        },
        Body::Note(body) => format!("note {}", body.words),
        Body::Wish(body) => format!("wish {}", body.words),
        Body::Testimony(body) => {
            let dated = body.dated.as_ref().map(|dated| format!(", {dated}")).unwrap_or_default();
            let on = body.part.as_ref().map(|_| format!(" on {who}")).unwrap_or_default();
            format!("{} {}{dated}{on}: {}", body.manner, body.source, body.words)
        }
        Body::Made(body) => format!("made {who}: {}", body.words),
        Body::Terms(body) => format!("{} {}", body.of, body.words),
        Body::Task(body) => match body.words.as_str() {
            "" => format!("task {}", body.task),
            words => format!("task {}, {words}", body.task),
        },
        Body::Hours(body) => hours_line(body),
        Body::Money(body) => format!("money {} {}", body.words, money(body.minor, &body.currency)),
        _ => String::new(),
    }
}

/// What a person or a paper says.
fn testimony(body: &Testimony1, job: &Job) -> String {
    let dated = body.dated.as_ref().map(|dated| format!(" of {dated}")).unwrap_or_default();
    let of = body.part.as_ref().map(|part| format!(", of the {}", part_name(job, part))).unwrap_or_default();
    format!("the {}{dated} says{of}: {}", body.source, body.words)
}

/// How long somebody was at what.
fn hours(body: &Hours1) -> String {
    let done = if body.done { ", done" } else { "" };
    let (hours, minutes) = (body.minutes / 60, body.minutes % 60);
    match (hours, minutes) {
        (0, _) => format!("{minutes} min at {}{done}", body.task),
        (_, 0) => format!("{hours} h at {}{done}", body.task),
        _ => format!("{hours} h {minutes} min at {}{done}", body.task),
    }
}

fn hours_line(body: &Hours1) -> String {
    let done = if body.done { ", done" } else { "" };
    let words = if body.words.is_empty() { String::new() } else { format!(", {}", body.words) };
    format!("hours {}h{:02} {}{done}{words}", body.minutes / 60, body.minutes % 60, body.task)
}

/// How a part made here can be known.
fn made(body: &Made1) -> String {
    let aged = if body.aged { "made to look old; " } else { "" };
    let mark = body.mark.as_deref().unwrap_or("no lasting mark said");
    format!("{aged}{mark}")
}

/// Whether a line, heard, says what an entry says. A part's id and its name in the trace are given by the job, not typed.
fn says(line: &str, body: &Body, job: &Job) -> bool {
    let meter = match body {
        Body::Reading(reading) => reading.meter.clone(),
        _ => None,
    };
    let meters = meter.map(|meter| Meter1 { meter, words: String::new(), accuracy: None });
    match (hear(line, job, meters.as_slice()).map(|heard| heard.body), body) {
        (Ok(Body::Part(heard)), Body::Part(kept)) => {
            (heard.name, heard.sort, heard.place, heard.count)
                == (kept.name.clone(), kept.sort.clone(), kept.place.clone(), kept.count)
        }
        // The place is that of the part now: a reading keeps the place it was taken at.
        (Ok(Body::Reading(heard)), Body::Reading(kept)) => {
            Reading1 { place: kept.place.clone(), ..heard } == *kept
        }
        (Ok(heard), kept) => heard == *kept,
        (Err(_), _) => false,
    }
}

/// An item of one of the job's lists as a line of Found.
pub fn line<T: Clone>(item: &Item<T>, wrap: impl Fn(T) -> Body, job: &Job) -> FoundLine {
    let body = wrap(item.body.clone());
    let (words, detail) = said(&body, job);
    let since = if item.versions.len() > 1 {
        // The line shows what stands; the note says that it was not always so.
        String::new()
    } else {
        since(&standing_of(job, item.seq))
    };
    let mut line = FoundLine {
        seq: item.seq,
        time: day_and_hour(&item.at),
        words,
        detail,
        since,
        money: tells_money(&body),
        again: again(&body, job),
        look: photograph::look(&body, job),
        ..FoundLine::default()
    };
    if item.versions.len() > 1 {
        let first = item.root;
        let more = if item.contested { ", twice over: look at both" } else { "" };
        line.detail = joined(&line.detail, &format!("corrects entry {first}{more}"));
    }
    if let Body::Photograph(body) = &body
        && body.width.is_some()
    {
        line.photograph = Some(body.original.clone());
        line.alt =
            if body.caption.is_empty() { format!("Photograph {}", body.name) } else { body.caption.clone() };
    }
    line
}

fn standing_of(job: &Job, seq: u64) -> Standing {
    job.history.iter().find(|line| line.seq == seq).map_or(Standing::Stands, |line| line.standing.clone())
}

/// What became of an entry, in two or three words; empty where it stands.
pub fn since(standing: &Standing) -> String {
    match standing {
        Standing::Stands => String::new(),
        Standing::Corrected { by } => format!("corrected by {}", crate::lists::and(&numbers(by))),
        Standing::Struck { by } => format!("struck out by {by}"),
        Standing::Withheld { by: Some(by) } => format!("withheld, see {by}"),
        Standing::Withheld { by: None } => "withheld".to_owned(),
        Standing::Unread => "not understood by this release; kept untouched".to_owned(),
    }
}

fn numbers(seqs: &[u64]) -> Vec<String> {
    seqs.iter().map(u64::to_string).collect()
}

/// The name of a part by its id; the id where no part has it.
pub fn part_name(job: &Job, id: &str) -> String {
    job.part(id).map_or_else(|| id.to_owned(), |part| part.item.body.name.clone())
}

fn name_with_count(part: &Part1) -> String {
    if part.count > 1 { format!("{} (× {})", part.name, part.count) } else { part.name.clone() }
}

fn shown(kept: &Quantity1) -> String {
    match &kept.amount {
        Amount1::OverRange => "over range".to_owned(),
        Amount1::NotMeasured => "not measured".to_owned(),
        Amount1::CannotTell => "cannot tell".to_owned(),
        Amount1::Exactly { .. } | Amount1::Over { .. } | Amount1::Under { .. } => kept.text.clone(),
    }
}

fn reading_detail(
    quantity: &str,
    method: Option<&str>,
    temperature: Option<&Quantity1>,
    meter: Option<&str>,
    range: Option<&str>,
) -> String {
    let mut pieces = vec![quantity.to_owned()];
    pieces.extend(method.map(str::to_owned));
    pieces.extend(temperature.map(|typed| format!("at {}", typed.text)));
    pieces.extend(meter.map(|id| format!("meter {id}")));
    pieces.extend(range.map(|range| format!("on range {range}")));
    pieces.join(", ")
}

fn probing_detail(body: &Probing1) -> String {
    let (method, meter, range) = (body.method.as_deref(), body.meter.as_deref(), body.range.as_deref());
    let detail = reading_detail(&body.quantity, method, body.temperature.as_ref(), meter, range);
    body.stood.iter().fold(detail, |detail, stood| format!("{detail}, {stood}"))
}

/// The line that makes a mark again; empty where its photograph does not show any more.
fn mark_line(body: &Mark1, job: &Job) -> String {
    let on = marks::pictures(job).into_iter().find(|picture| picture.original == body.photograph);
    let line = |number| marks::line(&body.of, number, (body.x, body.y), body.seen_from.as_deref());
    on.map(|picture| line(picture.number)).unwrap_or_default()
}

fn mark_detail(body: &Mark1, job: &Job) -> String {
    let on = job.photographs.iter().find(|item| item.body.original == body.photograph);
    let on = on.map(|item| format!("entry {}", item.seq));
    let seen = body.seen_from.as_ref().map(|side| format!("seen from the {side}"));
    on.into_iter().chain(seen).collect::<Vec<_>>().join(", ")
}

fn sweep_detail(body: &Sweep1) -> String {
    let mut pieces: Vec<String> = body.files.iter().map(|file| file.name.clone()).collect();
    if !body.resistors.is_empty() {
        let typed: Vec<&str> = body.resistors.iter().map(|resistor| resistor.text.as_str()).collect();
        pieces.push(format!("through {}", typed.join(" and ")));
    }
    pieces.extend(body.method.clone());
    pieces.extend(body.temperature.as_ref().map(|typed| format!("at {}", typed.text)));
    pieces.extend(body.meter.as_ref().map(|id| format!("meter {id}")));
    pieces.join(", ")
}

fn photograph_detail(width: Option<u32>, taken: Option<&str>, name: &str) -> String {
    let mut pieces = Vec::new();
    if width.is_none() {
        pieces.push(format!("{name}: kept as it came, no preview can be shown"));
    }
    // EXIF parts a date with colons; people part it with dashes.
    pieces.extend(taken.map(|taken| format!("taken {} by the camera's clock", taken.replacen(':', "-", 2))));
    pieces.join("; ")
}

fn piece_detail(body: &asfound_study::record::Piece1) -> String {
    let mut pieces = vec![body.family.clone()];
    pieces.extend(body.maker.as_ref().map(|maker| format!("maker: {maker}")));
    pieces.extend(body.serial.as_ref().map(|serial| format!("serial {serial}")));
    pieces.extend(body.origin.clone());
    pieces.join("; ")
}

fn as_found_word(as_found: Option<bool>) -> String {
    match as_found {
        Some(true) => "still as found".to_owned(),
        Some(false) => "a later state".to_owned(),
        None => String::new(),
    }
}

/// A trace line in words: `join rotary.7 choke.a seen photo 31` is `rotary 7 — choke a`, seen photo 31.
fn traced(text: &str) -> (String, String) {
    let mut lines = text.lines().map(str::trim).filter(|line| !line.is_empty());
    let (Some(first), more) = (lines.next(), lines.count()) else {
        return ("an empty trace".to_owned(), String::new());
    };
    if more > 0 {
        return (format!("{first} … and {}", count(more, "more line", "more lines")), String::new());
    }
    let Ok(line) = read_line(first) else { return (first.to_owned(), String::new()) };
    let comment = line.comment().unwrap_or_default();
    let (words, how) = match &line.statement {
        Some(Statement::Join(join)) => {
            let ends: Vec<String> = join.to.iter().map(|end| spaced(&end.to_string())).collect();
            let odds: Vec<String> = join.odds.iter().map(u32::to_string).collect();
            let odds = if odds.is_empty() { String::new() } else { format!(", odds {}", odds.join(":")) };
            let how = format!("{}{odds}", how_known(&join.how));
            (format!("{} — {}", spaced(&join.from.to_string()), or(&ends)), how)
        }
        Some(statement) => (statement.to_string(), String::new()),
        None => (first.to_owned(), String::new()),
    };
    let detail = if how.is_empty() || comment.is_empty() {
        format!("{how}{comment}")
    } else {
        format!("{how}; {comment}")
    };
    (words, detail)
}

/// `rotary.a3` as it is said: `rotary a3`.
fn spaced(place: &str) -> String {
    place.replace('.', " ")
}

/// A sum with its currency, `12.50 GBP`; of a currency whose minor unit is not known two digits are taken.
pub fn money(minor: i64, currency: &str) -> String {
    let digits = Currency::of(currency).map_or(2, Currency::minor_digits) as usize;
    let sign = if minor < 0 { "\u{2212}" } else { "" };
    let figures = format!("{:0>width$}", minor.unsigned_abs(), width = digits + 1);
    let (whole, part) = figures.split_at(figures.len() - digits);
    let point = if part.is_empty() { "" } else { "." };
    format!("{sign}{whole}{point}{part} {currency}")
}

fn decision(code: &str) -> &str {
    match code {
        "taken" => "taken up",
        "later" => "put off",
        other => other,
    }
}

fn short(hash: &str) -> &str {
    hash.get(..8).unwrap_or(hash)
}

/// Lines in the order in which what they tell was begun: a correction does not move an entry.
pub(crate) fn in_order(mut lines: Vec<(u64, FoundLine)>) -> Vec<FoundLine> {
    lines.sort_by_key(|(root, _)| *root);
    lines.into_iter().map(|(_, line)| line).collect()
}

fn joined(a: &str, b: &str) -> String {
    if a.is_empty() { b.to_owned() } else { format!("{a}; {b}") }
}
