//! A job's sheets put together as a paper: condition as found, parts, readings, the wiring in words, open points.

use asfound_study::material::Material;
use asfound_study::record::Body;
use asfound_study::wiring::{self, Statement, WiringTold};
use asfound_study::{Job, Size, Style, parts};
use asfound_words::entry;
use asfound_words::originality;
use asfound_words::page::{self, Page};
use asfound_words::sheet::{Figure, Sheet, Step, Table, Told};
use asfound_words::time::{day, day_and_hour};

use crate::paper::{Attachment, Block, Column, Paper, PaperError, Photograph, Section, Stamp};
use crate::render::pdf;

/// A picture as it goes on paper: shrunk, upright, without location.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct PaperPicture {
    /// SHA-256 of the original, hex.
    pub original: String,
    /// The picture as JPEG.
    pub jpeg: Vec<u8>,
}

/// A set paper, with what it told.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Composed {
    /// What paper it is.
    pub title: String,
    /// The file.
    pub pdf: Vec<u8>,
    /// Every finding as told, to be kept when the paper is issued.
    pub statements: Vec<String>,
    /// What the findings took for granted.
    pub assumptions: Vec<String>,
}

/// What a dossier is made of.
#[derive(Debug, Clone, Copy)]
pub struct Sources<'a> {
    /// The job, the workshop, and what stands beside them.
    pub material: &'a Material,
    /// The job's photographs, in any order.
    pub pictures: &'a [PaperPicture],
    /// The day the paper is made, ISO 8601.
    pub today: &'a str,
    /// The job's lines in export form: they travel inside the paper.
    pub lines: &'a str,
    /// Hash of the last of them.
    pub head: &'a str,
}

/// Sets a job's dossier.
///
/// # Errors
/// Where the type-setter refuses it: a fault of this program, since what people write is data to it.
pub fn dossier(sources: Sources<'_>) -> Result<Composed, PaperError> {
    let Sources { material, today, lines, head, .. } = sources;
    let (job, workshop) = (&*material.job, &*material.workshop);
    let sheet_of = |page| page::sheet(page, material);
    let [piece, part, readings, circuit] =
        [Page::Piece, Page::Parts, Page::Readings, Page::Wiring].map(sheet_of);
    let [checked, faults, rewiring] = [Page::MeterCheck, Page::Faults, Page::Rewiring].map(sheet_of);
    let [dates, originality] = [Page::Dates, Page::Originality].map(sheet_of);
    let plan = without_money(sheet_of(Page::Plan));
    let number = job.opened.as_ref().map(|item| item.body.number.clone()).unwrap_or_default();
    let title = job.opened.as_ref().map(|item| item.body.title.clone()).unwrap_or_default();
    let mut sheets = vec![&piece, &part, &readings, &circuit, &checked, &faults, &rewiring];
    // What would begin them is for the bench; a paper that says nothing of dates has no open point about them.
    sheets.extend([&dates, &originality, &plan].into_iter().filter(|sheet| !sheet.found.is_empty()));
    let restorer = workshop.persons.iter().find(|item| item.body.role == "restorer");
    let paper = Paper {
        title: title.clone(),
        subtitle: format!("Condition and examination, job {number}"),
        number: number.clone(),
        date: today.to_owned(),
        prepared_by: restorer.map(|item| item.body.name.clone()).unwrap_or_default(),
        language: "en".to_owned(),
        summary: summary(job, &[&readings, &circuit, &dates, &originality]),
        sections: vec![
            identity(job, workshop),
            condition(job, &piece),
            parts_section(&part),
            photographs(sources),
            readings_section(&readings),
            wiring_section(job, &circuit),
            when_held("The wiring, checked with the meter", &checked),
            when_held("What is at fault", &faults),
            when_held("Another wiring, proposed", &rewiring),
            when_held("When it was made", &dates),
            when_held("Which parts are original to it", &originality),
            when_held("What is proposed, and what is due", &plan),
            treatment(job),
            open_points(&sheets),
        ],
        colophon: colophon(job, head),
        foot_note: format!("Job {number} · chain {}", head.get(..8).unwrap_or(head)),
    };
    let attachment = Attachment {
        name: "record.jsonl".to_owned(),
        media: "application/jsonl".to_owned(),
        bytes: lines.as_bytes().to_vec(),
        description: "Every entry of the job, one a line, with its hashes".to_owned(),
    };
    let bytes = pdf(&paper, &[attachment], &stamp(today, &format!("{number} {head}")))?;
    let all = || sheets.iter().flat_map(|sheet| &sheet.means);
    let mut assumptions: Vec<String> = all().flat_map(|told| told.assumptions.clone()).collect();
    assumptions.sort();
    assumptions.dedup();
    Ok(Composed {
        title: format!("Dossier of job {number}: {title}"),
        pdf: bytes,
        statements: all().map(|told| format!("{} {}", told.sentence, told.sure).trim().to_owned()).collect(),
        assumptions,
    })
}

/// The dossier stays with the piece: what somebody pays for it, or would, is no part of it.
fn without_money(mut sheet: Sheet) -> Sheet {
    sheet.found.retain(|line| !line.money);
    sheet.means.retain(|told| !told.money);
    sheet
}

fn stamp(today: &str, ident: &str) -> Stamp {
    let number = |range: std::ops::Range<usize>| today.get(range).and_then(|text| text.parse::<u16>().ok());
    Stamp {
        year: number(0..4).unwrap_or(1970),
        month: number(5..7).map_or(1, |month| month.clamp(1, 12) as u8),
        day: number(8..10).map_or(1, |day| day.clamp(1, 31) as u8),
        ident: ident.to_owned(),
    }
}

/// Page one: what the owner should know, in plain words.
fn summary(job: &Job, sheets: &[&Sheet; 4]) -> Vec<String> {
    let [readings, circuit, dates, originality] = sheets;
    let known = parts::known(job);
    let disturbed = known.iter().filter(|part| part.disturbed).count();
    let mut words = vec![match disturbed {
        0 => "This is what was found, before anything was changed.".to_owned(),
        1 => "This is what was found; one part has been worked on since, and the paper says how.".to_owned(),
        several => format!(
            "This is what was found; {several} parts have been worked on since, and the paper says how."
        ),
    }];
    words.extend(job.piece.iter().map(|item| {
        let origin = item.body.origin.as_ref().map(|origin| format!(" {origin}")).unwrap_or_default();
        format!("{}.{origin}", item.body.words.trim_end_matches('.'))
    }));
    let coils: Vec<&str> = readings
        .means
        .iter()
        .filter(|told| told.id.starts_with("coil-") || told.id.starts_with("question-"))
        .map(|told| told.sentence.as_str())
        .collect();
    if !coils.is_empty() {
        words.push(coils.join(" "));
    }
    // The next hand must not be fooled by this one.
    words.extend(originality::made_here(job));
    words.extend(circuit.means.first().map(|told| format!("{} {}", told.sentence, told.sure)));
    let held = [dates, originality].into_iter().filter(|sheet| !sheet.found.is_empty());
    words.extend(
        held.filter_map(|sheet| sheet.means.first()).map(|told| format!("{} {}", told.sentence, told.sure)),
    );
    let unmeasured: Vec<&str> =
        known.iter().filter(|part| part.unmeasured).map(|part| part.name.as_str()).collect();
    if !unmeasured.is_empty() {
        words.push(format!("Not measured: {}.", unmeasured.join(", ")));
    }
    words
}

fn identity(job: &Job, workshop: &Job) -> Section {
    let mut facts = Vec::new();
    let mut fact = |name: &str, value: Option<String>| {
        facts.push((name.to_owned(), value.unwrap_or_else(|| "not known".to_owned())));
    };
    if let Some(item) = &job.piece {
        let body = &item.body;
        let owner =
            body.owner.as_ref().and_then(|id| workshop.persons.iter().find(|item| item.body.person == *id));
        fact("Piece", Some(body.words.clone()));
        fact("Family", Some(body.family.clone()));
        fact("Maker, as told", body.maker.clone());
        fact("Serial number, as read", body.serial.clone());
        fact("How it came", body.origin.clone());
        fact("Owner", owner.map(|item| item.body.name.clone()));
    }
    if let Some(first) = job.history.first() {
        fact("Taken in", Some(day(&first.at)));
    }
    let blocks = if facts.is_empty() { Vec::new() } else { vec![Block::Facts(facts)] };
    Section { heading: "What it is".to_owned(), intro: None, blocks }
}

fn condition(job: &Job, piece: &Sheet) -> Section {
    let mut blocks: Vec<Block> = piece.cautions.iter().cloned().map(Block::Caution).collect();
    let whole: Vec<String> = job
        .whole
        .as_found
        .iter()
        .filter_map(|&at| job.observed.get(at))
        .map(|item| item.body.words.clone())
        .collect();
    if !whole.is_empty() {
        blocks.push(Block::Paragraph(sentences(&whole)));
    }
    let mut rows = Vec::new();
    for part in parts::known(job) {
        for (seq, words) in &part.as_found {
            rows.push(vec![part.name.clone(), words.clone(), seq.to_string()]);
        }
    }
    if !rows.is_empty() {
        blocks.push(Block::Table {
            caption: "Part by part, as found".to_owned(),
            columns: columns(&["part", "as found", "#entry"]),
            rows,
        });
    }
    let notes: Vec<String> = job.notes.iter().map(|item| item.body.words.clone()).collect();
    if !notes.is_empty() {
        blocks.push(Block::Note(format!("Noted beside: {}", sentences(&notes))));
    }
    Section {
        heading: "Condition as found".to_owned(),
        intro: (!blocks.is_empty()).then(|| {
            "What was seen before anything was done. What it may mean stands further on.".to_owned()
        }),
        blocks,
    }
}

fn sentences(words: &[String]) -> String {
    words
        .iter()
        .map(|text| format!("{}. ", text.trim_end_matches('.')))
        .collect::<String>()
        .trim_end()
        .to_owned()
}

fn parts_section(sheet: &Sheet) -> Section {
    let blocks = sheet
        .means
        .iter()
        .filter(|told| told.id == "count")
        .flat_map(|told| told.tables.iter().map(table))
        .collect();
    Section { heading: "Parts".to_owned(), intro: None, blocks }
}

fn photographs(sources: Sources<'_>) -> Section {
    let shown: Vec<Photograph> = sources
        .material
        .job
        .photographs
        .iter()
        .filter_map(|item| {
            let picture = sources.pictures.iter().find(|picture| picture.original == item.body.original)?;
            let (caption, _) = entry::said(&Body::Photograph(item.body.clone()), &sources.material.job);
            Some(Photograph {
                bytes: picture.jpeg.clone(),
                caption: format!("{caption} (entry {})", item.root),
                alt: caption,
                hash_short: item.body.original.get(..8).unwrap_or_default().to_owned(),
            })
        })
        .collect();
    let blocks = if shown.is_empty() { Vec::new() } else { vec![Block::Photographs(shown)] };
    Section { heading: "Photographs".to_owned(), intro: None, blocks }
}

fn readings_section(sheet: &Sheet) -> Section {
    let mut blocks: Vec<Block> = Vec::new();
    if sheet.means.is_empty() {
        return Section::default();
    }
    // What is held of coils beforehand is for the bench; on paper each finding says what it took for granted.
    for told in sheet.means.iter().filter(|told| !["all", "held"].contains(&told.id.as_str())) {
        blocks.extend(finding(told));
        // What was weighed is shown with what it was weighed by: a verdict without that could not be followed.
        if told.id.starts_with("coil-") {
            blocks.extend(told.tables.iter().map(table));
            blocks.extend(behind(Some(told)));
        }
    }
    blocks.extend(
        sheet.means.iter().filter(|told| told.id == "all").flat_map(|told| told.tables.iter().map(table)),
    );
    let others = |told: &&Told| !told.working.is_empty() && !told.id.starts_with("coil-");
    blocks.extend(sheet.means.iter().filter(others).flat_map(|told| behind(Some(told))));
    Section {
        heading: "Readings".to_owned(),
        intro: Some("Each reading is given as the meter showed it, with how it was taken; copper is also given at 20 °C.".to_owned()),
        blocks,
    }
}

fn wiring_section(job: &Job, sheet: &Sheet) -> Section {
    let mut blocks: Vec<Block> = sheet.figures.iter().map(plot).collect();
    for told in &sheet.means {
        blocks.extend(finding(told));
        if told.id == "overview" {
            blocks.extend(told.tables.iter().map(table));
            blocks.extend(behind(Some(told)));
        }
        blocks.extend(told.figures.iter().map(plot));
    }
    if let Some(joins) = joins(job) {
        blocks.push(joins);
    }
    if job.traces.is_empty() {
        blocks.clear();
    }
    let heading = if sheet.figures.is_empty() { "The wiring, in words" } else { "The wiring" };
    Section { heading: heading.to_owned(), intro: None, blocks }
}

/// A section for a page that holds something of this job: entries, and what they mean. A page without entries only
/// says how it would begin, which is for the bench.
fn when_held(heading: &str, sheet: &Sheet) -> Section {
    if sheet.found.is_empty() || sheet.means.is_empty() {
        return Section::default();
    }
    let mut blocks: Vec<Block> = sheet.cautions.iter().cloned().map(Block::Caution).collect();
    blocks.extend(sheet.figures.iter().map(plot));
    for told in &sheet.means {
        blocks.extend(finding(told));
        blocks.extend(told.shown.iter().map(table));
        // As on the page: what is drawn stands with its finding, the figures behind it after.
        blocks.extend(told.figures.iter().map(plot));
        blocks.extend(told.tables.iter().map(table));
        blocks.extend(behind(Some(told)));
    }
    Section { heading: heading.to_owned(), intro: None, blocks }
}

fn plot(figure: &Figure) -> Block {
    Block::Plot {
        svg: figure.plot.svg(Style::Paper, Size::Wide),
        caption: figure.caption.clone(),
        alt: figure.plot.description(),
    }
}

/// Every join as traced, with how it is known.
fn joins(job: &Job) -> Option<Block> {
    let wiring = wiring::study(job);
    let WiringTold::Explained(explained) = &wiring.told else { return None };
    let rows: Vec<Vec<String>> = explained
        .trace
        .lines()
        .iter()
        .filter_map(|line| match &line.statement {
            Some(Statement::Join(join)) => {
                let ends: Vec<String> = join.to.iter().map(ToString::to_string).collect();
                Some(vec![join.from.to_string(), ends.join(" or "), wiring::how_known(&join.how)])
            }
            _ => None,
        })
        .collect();
    (!rows.is_empty()).then(|| Block::Table {
        caption: "Every join as traced".to_owned(),
        columns: columns(&["from", "to", "how it is known"]),
        rows,
    })
}

fn treatment(job: &Job) -> Section {
    let rows: Vec<Vec<String>> = job
        .acts
        .iter()
        .map(|item| {
            let (words, detail) = entry::said(&Body::Act(item.body.clone()), job);
            let told = if detail.is_empty() { words } else { format!("{words} ({detail})") };
            vec![day_and_hour(&item.at), told, item.root.to_string()]
        })
        .collect();
    let blocks = if rows.is_empty() {
        Vec::new()
    } else {
        vec![Block::Table {
            caption: "What was done".to_owned(),
            columns: columns(&["when", "what", "#entry"]),
            rows,
        }]
    };
    Section { heading: "Treatment".to_owned(), intro: None, blocks }
}

fn open_points(sheets: &[&Sheet]) -> Section {
    let mut seen: Vec<&str> = Vec::new();
    let mut unique: Vec<String> = Vec::new();
    for step in
        sheets.iter().flat_map(|sheet| sheet.means.iter().flat_map(|told| &told.next).chain(&sheet.next))
    {
        // The same step may stand on two pages.
        if step.decision != "done" && !seen.contains(&step.id.as_str()) {
            seen.push(&step.id);
            unique.push(step_words(step));
        }
    }
    let blocks = if unique.is_empty() { Vec::new() } else { vec![Block::Steps(unique)] };
    Section {
        heading: "Open points".to_owned(),
        intro: (!blocks.is_empty())
            .then(|| "What would be looked at or measured next, and what it would settle.".to_owned()),
        blocks,
    }
}

fn step_words(step: &Step) -> String {
    [&step.caution, &step.words, &step.why]
        .into_iter()
        .filter(|text| !text.is_empty())
        .cloned()
        .collect::<Vec<_>>()
        .join(" ")
}

fn colophon(job: &Job, head: &str) -> Vec<String> {
    vec![
        format!("This paper rests on the {} entries of the job's chain that ends with the hash {head}.", job.history.len()),
        "The entries travel inside this file as record.jsonl. Each line holds an envelope; the SHA-256 of the envelope's canonical JSON (RFC 8785) is the line's hash, and each envelope names the hash of the one before. Common tools can check it.".to_owned(),
        "The seal that belongs to this paper signs the paper's own hash, the hash above and the list of photographs. It shows that nothing was changed since, not that what was said is true.".to_owned(),
        "Photographs are shown shrunk and without the place where they were taken; the short number under each begins the hash of the original.".to_owned(),
    ]
}

fn finding(told: &Told) -> Vec<Block> {
    let mut blocks = Vec::new();
    if !told.caution.is_empty() {
        blocks.push(Block::Caution(told.caution.clone()));
    }
    blocks.push(Block::Finding {
        sentence: told.sentence.clone(),
        sure: told.sure.clone(),
        rests_on: rests_on(told),
    });
    blocks
}

/// The entries a finding rests on; a long list is told by its ends.
fn rests_on(told: &Told) -> Vec<String> {
    match told.rests_on.as_slice() {
        [] => Vec::new(),
        few if few.len() <= 4 => few.iter().map(|rest| rest.label.clone()).collect(),
        many => {
            let seqs = || many.iter().map(|rest| rest.seq);
            let (first, last) = (seqs().min().unwrap_or(0), seqs().max().unwrap_or(0));
            vec![format!("{} entries, {first} to {last}", many.len())]
        }
    }
}

fn behind(told: Option<&Told>) -> Vec<Block> {
    let Some(told) = told else { return Vec::new() };
    let mut lines = told.working.clone();
    if !told.assumptions.is_empty() {
        lines.push(format!("Taken for granted: {}", told.assumptions.join(" ")));
    }
    if lines.is_empty() { Vec::new() } else { vec![Block::Note(lines.join("\n"))] }
}

fn table(shown: &Table) -> Block {
    Block::Table {
        caption: shown.caption.clone(),
        columns: shown
            .columns
            .iter()
            .map(|column| Column { name: column.name.clone(), numeric: column.numeric })
            .collect(),
        rows: shown.rows.clone(),
    }
}

/// Columns by name; one that begins with `#` holds figures.
fn columns(names: &[&str]) -> Vec<Column> {
    let column = |name: &&str| Column {
        name: name.trim_start_matches('#').to_owned(),
        numeric: name.starts_with('#'),
    };
    names.iter().map(column).collect()
}
