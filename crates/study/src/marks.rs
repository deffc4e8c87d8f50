//! Marks on photographs: here is this lug, here is this part.
//!
//! A mark is a place on an upright picture in ten-thousandths of its width and height, so that it means the same on
//! every screen. Of one name on one photograph the latest mark stands. Marks of a photograph that was withheld or struck
//! out are in the job and not here: there is nothing to look at.

use asfound_record::Job;

use crate::lugs::{self, Lug};

/// The whole width, and the whole height, of a picture: marks are kept in ten-thousandths.
pub const WHOLE: u32 = 10_000;

/// How far from a mark a press still means it, in pixels of the screen: half again the 44 px that a thumb needs.
pub const REACH: u32 = 66;

/// A photograph that shows, with its marks.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Picture {
    /// The entry that keeps it.
    pub seq: u64,
    /// Its number among all photographs ever kept in the job, from 1: it stays when another is struck out.
    pub number: usize,
    /// SHA-256 of the original bytes, hex.
    pub original: String,
    /// Width and height in pixels, upright.
    pub size: (u32, u32),
    /// What it shows, in words; may be empty.
    pub caption: String,
    /// The marks that stand, in the order in which they were first made.
    pub marks: Vec<Marked>,
}

/// A place on a photograph.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Marked {
    /// The entry that keeps it.
    pub seq: u64,
    /// The lug or part.
    pub of: String,
    /// How far from the left edge, in ten-thousandths of the width.
    pub x: u32,
    /// How far from the upper edge, in ten-thousandths of the height.
    pub y: u32,
    /// From where the picture looks at the circuit; absent where not said.
    pub seen_from: Option<String>,
}

/// The job's photographs that can be shown, in the order in which they were kept.
pub fn pictures(job: &Job) -> Vec<Picture> {
    let mut pictures: Vec<Picture> = Vec::new();
    for item in &job.photographs {
        let body = &item.body;
        let (Some(width), Some(height)) = (body.width, body.height) else { continue };
        pictures.push(Picture {
            seq: item.seq,
            number: number_of(job, item.root),
            original: body.original.clone(),
            size: (width.max(1), height.max(1)),
            caption: body.caption.clone(),
            marks: marks_on(job, &body.original),
        });
    }
    pictures
}

/// The number of the photograph that this entry keeps.
pub fn number_of(job: &Job, seq: u64) -> usize {
    job.history.iter().filter(|line| line.kind == "photograph/1" && line.seq <= seq).count()
}

fn marks_on(job: &Job, original: &str) -> Vec<Marked> {
    let mut marks: Vec<Marked> = Vec::new();
    for item in job.marks.iter().filter(|item| item.body.photograph == original) {
        let body = &item.body;
        let (x, y) = (body.x.min(WHOLE), body.y.min(WHOLE));
        let mark = Marked { seq: item.seq, of: body.of.clone(), x, y, seen_from: body.seen_from.clone() };
        match marks.iter_mut().find(|known| known.of.eq_ignore_ascii_case(&mark.of)) {
            Some(known) => *known = mark,
            None => marks.push(mark),
        }
    }
    marks
}

impl Picture {
    /// The mark of a lug or part.
    pub fn mark(&self, of: &str) -> Option<&Marked> {
        self.marks.iter().find(|mark| mark.of.eq_ignore_ascii_case(of))
    }

    /// The mark that a press means: the nearest one within [`REACH`]. The press and the size at which the picture is
    /// shown are in pixels of the screen.
    pub fn pressed(&self, press: (u32, u32), shown: (u32, u32)) -> Option<&Marked> {
        let along = |mark: u32, press: u32, shown: u32| {
            let at = u64::from(mark) * u64::from(shown) / u64::from(WHOLE);
            at.abs_diff(u64::from(press)).pow(2)
        };
        let apart = |mark: &Marked| along(mark.x, press.0, shown.0) + along(mark.y, press.1, shown.1);
        let near = |mark: &&Marked| apart(mark) <= u64::from(REACH).pow(2);
        self.marks.iter().filter(near).min_by_key(|mark| apart(mark))
    }
}

/// Where a press on a picture lies, in ten-thousandths, from the pixels of the screen at which it is shown.
pub fn spot(press: (u32, u32), shown: (u32, u32)) -> (u32, u32) {
    let along = |press: u32, shown: u32| {
        let (press, shown) = (u64::from(press), u64::from(shown.max(1)));
        let at = (press * u64::from(WHOLE) + shown / 2) / shown;
        u32::try_from(at).unwrap_or(WHOLE).min(WHOLE)
    };
    (along(press.0, shown.0), along(press.1, shown.1))
}

/// Lugs of the trace that are marked on no photograph that shows.
pub fn unmarked(lugs: &[Lug], pictures: &[Picture]) -> Vec<String> {
    let free = |lug: &&Lug| pictures.iter().all(|picture| picture.mark(&lug.name).is_none());
    lugs.iter().filter(free).map(|lug| lug.name.clone()).collect()
}

/// Where to look for a lug or a part: the entry of the photograph and the name that is marked there. The latest mark of
/// the lug itself, else of its part, else of another lug of its part.
pub fn look_at(job: &Job, of: &str) -> Option<(u64, String)> {
    let part = lugs::part_of(of);
    let by_name = |wanted: &dyn Fn(&str) -> bool| {
        job.marks.iter().rev().find_map(|item| {
            let shows = |photograph: &&asfound_record::Item<asfound_record::Photograph1>| {
                photograph.body.original == item.body.photograph && photograph.body.width.is_some()
            };
            let photograph = job.photographs.iter().find(shows).filter(|_| wanted(&item.body.of))?;
            Some((photograph.seq, item.body.of.clone()))
        })
    };
    by_name(&|name| name.eq_ignore_ascii_case(of))
        .or_else(|| by_name(&|name| name.eq_ignore_ascii_case(part)))
        .or_else(|| by_name(&|name| lugs::part_of(name).eq_ignore_ascii_case(part)))
}

/// The line of the entry line that keeps a mark.
pub fn line(of: &str, photograph: usize, (x, y): (u32, u32), seen_from: Option<&str>) -> String {
    let seen = seen_from.map(|side| format!(" from the {side}")).unwrap_or_default();
    format!("mark {of} on photo {photograph} at {} % {} %{seen}", percent(x), percent(y))
}

/// Ten-thousandths as per cent: `4125` is `41.25`, `4100` is `41`.
pub fn percent(of_ten_thousand: u32) -> String {
    let (whole, part) = (of_ten_thousand / 100, of_ten_thousand % 100);
    if part == 0 { whole.to_string() } else { format!("{whole}.{part:02}").trim_end_matches('0').to_owned() }
}
