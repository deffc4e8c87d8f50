//! This workshop's own past readings: what coils of the same kind read here before.
//!
//! A job gives one [`PastReading`] for each coil that was read at its own joints; acts keeps them as lines of text beside
//! the job, so that a thousand jobs need not be folded to look at one coil. The lines can be thrown away and made anew.

use asfound_measure::{Ohms, Sample, Uncertain, rectangular};
use asfound_record::{Amount1, Job};

use crate::Plot;
use crate::readings::{At20, ReadingStudied, study};
use crate::usual::{AtTwenty, Held, Kindred, Position, SHARE, may_be_of, position};

/// Ways of reading with nothing else across the coil.
const AT_ITS_JOINTS: [&str; 3] = ["at the joints", "lead lifted", "out of circuit"];

/// One coil of this workshop, as it was read last.
#[derive(Debug, Clone, PartialEq)]
pub struct PastReading {
    /// The job's chain.
    pub chain: String,
    /// The job's number on labels.
    pub job: String,
    /// The part's id.
    pub part: String,
    /// The part's name.
    pub name: String,
    /// What it is; its construction is always said.
    pub kindred: Kindred,
    /// Resistance at 20 °C, or the middle of its range where no temperature was taken.
    pub ohms_at_20: Ohms,
    /// Its standard uncertainty; `None` where the meter's accuracy is not known.
    pub standard_uncertainty: Option<Ohms>,
}

/// The job's coils whose construction was said and that were read, as an exact number of ohms, at their own joints: the
/// latest such reading of each.
///
/// `kindred` says what a part is. For a coil that was wound anew it should say no construction: such a coil is nobody's
/// kin. Nor is a reading that says a way in circuit, at the jack, or no way at all: something may lie across the coil.
pub fn of_job(job: &Job, workshop: &Job, kindred: impl Fn(&Job, &str) -> Kindred) -> Vec<PastReading> {
    let mut past: Vec<PastReading> = Vec::new();
    for reading in study(job, workshop) {
        let Some(reading) = of_reading(job, &reading, &kindred) else { continue };
        past.retain(|earlier| earlier.part != reading.part);
        past.push(reading);
    }
    past
}

fn of_reading(
    job: &Job,
    reading: &ReadingStudied,
    kindred: &impl Fn(&Job, &str) -> Kindred,
) -> Option<PastReading> {
    let method = reading.method.as_deref()?;
    let usable = reading.sort == "coil"
        && reading.doubt.is_none()
        && reading.temperature_doubt.is_none()
        && AT_ITS_JOINTS.iter().any(|way| method.starts_with(way))
        && matches!(reading.amount, Amount1::Exactly { .. });
    if !usable {
        return None;
    }
    let kindred = kindred(job, &reading.part);
    kindred.construction.as_ref()?;
    let (ohms_at_20, u) = match reading.at_20.as_ref()? {
        At20::Known(worked) => (Ohms(worked.value), worked.standard_uncertainty),
        At20::Between(low, high) => {
            let shown = reading.shown.as_ref()?;
            let half_widths =
                [(high.0 - low.0) / 2.0, shown.meter_half_width.unwrap_or(0.0), shown.last_place / 2.0];
            let middle = (*low + *high) * 0.5;
            let parts = half_widths.map(|half_width| Ohms(rectangular(half_width)));
            (middle, Uncertain::combined(middle, &parts).standard_uncertainty.0)
        }
    };
    let meter_known = reading.shown.as_ref()?.meter_half_width.is_some();
    Some(PastReading {
        chain: job.chain.clone(),
        job: job.opened.as_ref().map(|item| item.body.number.clone()).unwrap_or_default(),
        part: reading.part.clone(),
        name: reading.name.clone(),
        kindred,
        ohms_at_20,
        standard_uncertainty: meter_known.then_some(Ohms(u)),
    })
}

/// What stands before every line; the number is its version.
const LINE: &str = "coil-read/1";
/// What stands where something is not known.
const ABSENT: &str = "-";

impl PastReading {
    /// The reading as one line of text, its pieces parted by tabs. Numbers are written so that they read back the same.
    pub fn line(&self) -> String {
        let period = self.kindred.period.map(|(first, last)| format!("{first}-{last}"));
        let pieces = [
            Some(LINE.to_owned()),
            self.kindred.construction.as_deref().map(flat),
            self.kindred.gauge.map(|gauge| gauge.to_string()),
            period,
            Some(self.ohms_at_20.0.to_string()),
            self.standard_uncertainty.map(|u| u.0.to_string()),
            Some(flat(&self.chain)),
            Some(flat(&self.job)),
            Some(flat(&self.part)),
            Some(flat(&self.name)),
        ];
        pieces.map(|piece| piece.unwrap_or_else(|| ABSENT.to_owned())).join("\t")
    }

    /// A line read back; `None` for a line of another version or a damaged one. The job it came from makes it anew.
    pub fn from_line(line: &str) -> Option<PastReading> {
        let pieces: Vec<&str> = line.split('\t').collect();
        let [LINE, construction, gauge, period, ohms, uncertainty, chain, job, part, name] =
            pieces.as_slice()
        else {
            return None;
        };
        let kindred = Kindred {
            construction: Some((*construction).to_owned()),
            gauge: if_there(gauge, |text| text.parse().ok())?,
            period: if_there(period, |text| {
                let (first, last) = text.split_once('-')?;
                Some((first.parse().ok()?, last.parse().ok()?))
            })?,
        };
        let number = |text: &str| text.parse().ok().filter(|ohms: &f64| ohms.is_finite()).map(Ohms);
        Some(PastReading {
            chain: (*chain).to_owned(),
            job: (*job).to_owned(),
            part: (*part).to_owned(),
            name: (*name).to_owned(),
            kindred,
            ohms_at_20: number(ohms)?,
            standard_uncertainty: if_there(uncertainty, number)?,
        })
    }
}

/// Text without signs that would end a piece or a line.
fn flat(text: &str) -> String {
    text.chars().map(|sign| if sign.is_control() { ' ' } else { sign }).collect()
}

/// What a piece says: nothing where it is absent; `None` where it cannot be read.
fn if_there<T>(piece: &str, read: impl Fn(&str) -> Option<T>) -> Option<Option<T>> {
    if piece == ABSENT { Some(None) } else { read(piece).map(Some) }
}

/// A coil among those of its kind that this workshop read before.
#[derive(Debug, Clone, PartialEq)]
pub struct AmongOwn {
    /// The readings of its kind, in the order given; never of the coil itself.
    pub like: Vec<PastReading>,
    /// Their count, mean and spread; `None` where there are none.
    pub sample: Option<Sample<Ohms>>,
    /// Where one more of the kind lies, 95 in 100; `None` for fewer than two.
    pub interval: Option<(Ohms, Ohms)>,
    /// Where the coil lies.
    pub position: Position,
}

/// Puts a coil among past readings of its kind: the same construction, and the same gauge and a common year where these
/// were said of the coil. A past coil of which they were not said is then left out. `this` is the coil's own chain and part.
pub fn among(past: &[PastReading], kindred: &Kindred, coil: &AtTwenty, this: (&str, &str)) -> AmongOwn {
    let is_like = |reading: &&PastReading| {
        let other = &reading.kindred;
        kindred.construction.is_some()
            && other.construction == kindred.construction
            && kindred.gauge.is_none_or(|gauge| other.gauge == Some(gauge))
            && kindred
                .period
                .is_none_or(|period| other.period.is_some() && may_be_of(Some(period), other.period))
            && (reading.chain.as_str(), reading.part.as_str()) != this
    };
    let like: Vec<PastReading> = past.iter().filter(is_like).cloned().collect();
    let values: Vec<Ohms> = like.iter().map(|reading| reading.ohms_at_20).collect();
    let sample = Sample::of(&values);
    let interval = sample.and_then(|sample| sample.one_more(SHARE));
    AmongOwn { like, sample, interval, position: position(coil, interval) }
}

/// The coil beside past readings of its kind, as a strip with the coil marked and the first published window told on the
/// axis. `title` heads it and `name` stands at the coil.
pub fn strip(among: &AmongOwn, held: &[Held], coil: &AtTwenty, title: &str, name: &str) -> Plot {
    let values: Vec<Ohms> = among.like.iter().map(|reading| reading.ohms_at_20).collect();
    let what = match values.len() {
        1 => "earlier reading of a like coil, at 20 °C",
        _ => "earlier readings of like coils, at 20 °C",
    };
    let window = held.iter().find_map(|held| held.interval);
    let what = match window {
        Some((low, high)) => format!("{what}; window {:.1} to {:.1} kΩ", low.0 / 1e3, high.0 / 1e3),
        None => what.to_owned(),
    };
    Plot::strip(title, what, &values, coil.value, name)
}
