//! Hum by touch: what a hand on the strings, on the plug or on a cover says of the grounds.
//!
//! It answers: what is behind a hum that gets better, worse or stays as it is when metal is touched, and behind an
//! output that dies when a string touches a cover; which points to meter next, and what they should read.
//!
//! The one decision: *a cause is told with what speaks for it, and every cause that the touches leave open is told*.
//! A touch is a weak test; the meter points decide, with the instrument unplugged. And every answer opens with its
//! cautions, because the test itself puts a hand between an amplifier and the ground.
//!
//! The patterns are common practice, no source. They follow from one picture: a body carries hum by its capacitance to
//! the mains wires around it. Metal on ground drains it (better on touch); metal on the hot output feeds it in (worse on
//! touch); metal on neither does nothing. What a cover on the hot lead reads to the sleeve is the network of resistances
//! between them: the coil, beside the volume where that is full up.
//!
//! ```
//! use asfound_electric::touch::{Cause, OnTouch, Touched, hum_by_touch};
//!
//! let touched = Touched { strings: Some(OnTouch::NoChange), sleeve: Some(OnTouch::Better), ..Touched::default() };
//! let told = hum_by_touch(&touched);
//! assert_eq!(told.causes[0].cause, Cause::StringGroundBroken);
//! ```

use asfound_measure::Ohms;

/// What the hum does when something is touched.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash)]
pub enum OnTouch {
    /// It gets less.
    Better,
    /// It gets more.
    Worse,
    /// It stays as it is.
    NoChange,
}

/// A coil whose metal cover a string touched, and the sound cut out.
#[derive(Debug, Clone, Copy, PartialEq, Default)]
pub struct CutOut {
    /// Ohms of the coil under it, where they are known.
    pub coil: Option<Ohms>,
    /// Track of the volume that loads it, where it is known; the volume full up and the coil selected alone.
    pub track: Option<Ohms>,
}

/// What was touched, and what happened; `None` was not tried.
#[derive(Debug, Clone, Copy, PartialEq, Default)]
pub struct Touched {
    /// The strings, or the bridge.
    pub strings: Option<OnTouch>,
    /// The metal sleeve of the plug in the jack.
    pub sleeve: Option<OnTouch>,
    /// The metal cover of a coil, touched by hand.
    pub cover: Option<OnTouch>,
    /// The sound cuts out when a string touches a cover.
    pub cut_out: Option<CutOut>,
}

/// What may be behind it.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum Cause {
    /// The strings are not on ground: the wire is broken or loose between the bridge and the jack's ground.
    StringGroundBroken,
    /// The strings are on ground, but by a joint of too many ohms.
    StringGroundPoor,
    /// Hot and ground are exchanged, at the jack or on the way to it: the metal is on the tip.
    TipAndSleeveExchanged,
    /// A coil's cover is on its hot lead: its leads were exchanged without freeing the cover.
    CoverOnHot,
    /// A coil's cover is on nothing.
    CoverFloating,
    /// Nothing is wrong with the ground: the hand adds a screen that the instrument lacks.
    ScreenedByHand,
    /// The hum comes in by the coils, from the fields of transformers and mains wires.
    CoilsInField,
    /// The cable or the amplifier.
    CableOrAmplifier,
}

/// Which touch spoke for a cause.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash)]
pub enum SpokenBy {
    /// The strings.
    Strings,
    /// The plug's sleeve.
    Sleeve,
    /// A cover under the hand.
    Cover,
    /// A string on a cover.
    CutOut,
}

/// A cause with what speaks for it.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Suspected {
    /// The cause.
    pub cause: Cause,
    /// The touches that fit it.
    pub spoken_for_by: Vec<SpokenBy>,
}

/// A place to put a meter lead.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash)]
pub enum Spot {
    /// The strings.
    Strings,
    /// The bridge, or the stud or tailpiece that the ground wire goes to.
    Bridge,
    /// The jack's sleeve.
    Sleeve,
    /// The jack's tip.
    Tip,
    /// The metal shell of a pot that the grounds meet on.
    PotCase,
    /// The cover of the coil.
    Cover,
    /// The coil's hot lead.
    HotLead,
    /// The sleeve of the cable's far plug.
    FarSleeve,
}

/// What a reading at two spots means.
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum Should {
    /// Under this where all is well.
    BeUnder(Ohms),
    /// 0 where the cause is there.
    BeNoughtIfSo,
    /// About this where the cause is there, instead of 0; `None` is the coil's ohms, not known.
    BeAboutIfSo(Option<Ohms>),
}

/// Two places to meter, unplugged, with what the reading means.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct TestPoint {
    /// One lead of the meter.
    pub from: Spot,
    /// The other.
    pub to: Spot,
    /// What it should read.
    pub should: Should,
    /// The cause that it proves or rules out.
    pub decides: Cause,
}

/// What comes before a touch or a reading, in this order.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash)]
pub enum Caution {
    /// No touch test before the protective earth of the amplifier and of its socket is proved.
    ProveProtectiveEarth,
    /// At any tingle let go, pull the amplifier's mains plug, and call a licensed technician.
    StopAtAnyTingle,
    /// Unplug from the amplifier before metering.
    UnplugBeforeMetering,
}

/// The cautions of every answer, in order.
pub const CAUTIONS: [Caution; 3] =
    [Caution::ProveProtectiveEarth, Caution::StopAtAnyTingle, Caution::UnplugBeforeMetering];

/// A ground wire reads less than this from end to end (common practice, no source).
pub const SOUND_GROUND: Ohms = Ohms(1.0);

/// What hum by touch says.
#[derive(Debug, Clone, PartialEq)]
pub struct Told {
    /// What comes first.
    pub cautions: [Caution; 3],
    /// What may be behind it; what most touches speak for comes first.
    pub causes: Vec<Suspected>,
    /// Where to meter, in the order of the causes.
    pub test_points: Vec<TestPoint>,
    /// Touches that would tell more.
    pub try_next: Vec<SpokenBy>,
}

/// Reads touches. Causes that no touch speaks for or against are not listed; with nothing tried there is none.
pub fn hum_by_touch(touched: &Touched) -> Told {
    let mut causes: Vec<Suspected> = Vec::new();
    for (by, touch) in [
        (SpokenBy::Strings, touched.strings),
        (SpokenBy::Sleeve, touched.sleeve),
        (SpokenBy::Cover, touched.cover),
    ] {
        for &cause in touch.map_or(&[][..], |touch| spoken_for(by, touch)) {
            speak(&mut causes, cause, by);
        }
    }
    causes.retain(|it| !spoken_against(it.cause, touched));
    if touched.cut_out.is_some() {
        // Strings on ground short the output when they touch hot metal: nothing else does that.
        causes.retain(|it| it.cause != Cause::CoverFloating);
        speak(&mut causes, Cause::CoverOnHot, SpokenBy::CutOut);
        let cover = causes.iter().position(|it| it.cause == Cause::CoverOnHot);
        if let Some(at) = cover {
            let cover = causes.remove(at);
            causes.insert(0, cover);
        }
    }
    let rest = usize::from(touched.cut_out.is_some());
    causes[rest..].sort_by_key(|it| std::cmp::Reverse(it.spoken_for_by.len()));
    let test_points = causes.iter().flat_map(|it| test_points(it.cause, touched.cut_out)).collect();
    let tried =
        [(SpokenBy::Strings, touched.strings.is_some()), (SpokenBy::Sleeve, touched.sleeve.is_some())];
    let try_next = tried.into_iter().filter(|(_, tried)| !tried).map(|(by, _)| by).collect();
    Told { cautions: CAUTIONS, causes, test_points, try_next }
}

fn speak(causes: &mut Vec<Suspected>, cause: Cause, by: SpokenBy) {
    match causes.iter_mut().find(|it| it.cause == cause) {
        Some(known) => known.spoken_for_by.push(by),
        None => causes.push(Suspected { cause, spoken_for_by: vec![by] }),
    }
}

fn spoken_for(by: SpokenBy, touch: OnTouch) -> &'static [Cause] {
    match (by, touch) {
        (SpokenBy::Strings, OnTouch::Better) => &[Cause::ScreenedByHand, Cause::StringGroundPoor],
        (SpokenBy::Strings, OnTouch::Worse) => &[Cause::TipAndSleeveExchanged],
        (SpokenBy::Strings, OnTouch::NoChange) => {
            &[Cause::StringGroundBroken, Cause::CoilsInField, Cause::CableOrAmplifier]
        }
        (SpokenBy::Sleeve, OnTouch::Better) => {
            &[Cause::StringGroundBroken, Cause::StringGroundPoor, Cause::ScreenedByHand]
        }
        (SpokenBy::Sleeve, OnTouch::Worse) => &[Cause::CableOrAmplifier],
        (SpokenBy::Sleeve, OnTouch::NoChange) => &[Cause::CoilsInField, Cause::CableOrAmplifier],
        (SpokenBy::Cover, OnTouch::Worse) => &[Cause::CoverOnHot, Cause::CoverFloating],
        (SpokenBy::Cover, OnTouch::Better | OnTouch::NoChange) | (SpokenBy::CutOut, _) => &[],
    }
}

/// Whether a touch that was tried rules a cause out.
fn spoken_against(cause: Cause, touched: &Touched) -> bool {
    match cause {
        // Strings on nothing neither drain nor feed a hum.
        Cause::StringGroundBroken => matches!(touched.strings, Some(OnTouch::Better | OnTouch::Worse)),
        Cause::StringGroundPoor => touched.strings.is_some_and(|touch| touch != OnTouch::Better),
        Cause::ScreenedByHand => touched.strings.is_some_and(|touch| touch != OnTouch::Better),
        // A hum that a hand on ground drains comes in by electric fields, not by the coils' magnetic ones.
        Cause::CoilsInField => {
            touched.sleeve == Some(OnTouch::Better) || touched.strings == Some(OnTouch::Better)
        }
        Cause::CableOrAmplifier => {
            touched.sleeve == Some(OnTouch::Better) || touched.strings == Some(OnTouch::Better)
        }
        Cause::TipAndSleeveExchanged | Cause::CoverOnHot | Cause::CoverFloating => false,
    }
}

fn test_points(cause: Cause, cut_out: Option<CutOut>) -> Vec<TestPoint> {
    let point = |from, to, should| TestPoint { from, to, should, decides: cause };
    let sound = Should::BeUnder(SOUND_GROUND);
    match cause {
        Cause::StringGroundBroken | Cause::StringGroundPoor => vec![
            point(Spot::Strings, Spot::Sleeve, sound),
            point(Spot::Bridge, Spot::PotCase, sound),
            point(Spot::PotCase, Spot::Sleeve, sound),
        ],
        Cause::TipAndSleeveExchanged => vec![
            point(Spot::Tip, Spot::Bridge, Should::BeNoughtIfSo),
            point(Spot::Sleeve, Spot::Bridge, sound),
        ],
        Cause::CoverOnHot => vec![
            point(Spot::Cover, Spot::HotLead, Should::BeNoughtIfSo),
            point(Spot::Cover, Spot::Sleeve, Should::BeAboutIfSo(cut_out.and_then(cover_to_sleeve))),
        ],
        Cause::CoverFloating => vec![point(Spot::Cover, Spot::Sleeve, sound)],
        Cause::CableOrAmplifier => vec![point(Spot::Sleeve, Spot::FarSleeve, sound)],
        Cause::ScreenedByHand => vec![point(Spot::Strings, Spot::Sleeve, sound)],
        Cause::CoilsInField => Vec::new(),
    }
}

/// What a cover on the hot lead reads to the sleeve: the coil, beside the track of a volume that is full up.
pub fn cover_to_sleeve(cut_out: CutOut) -> Option<Ohms> {
    let Ohms(coil) = cut_out.coil.filter(|ohms| ohms.0.is_finite() && ohms.0 >= 0.0)?;
    Some(match cut_out.track {
        Some(Ohms(track)) if track.is_finite() && track > 0.0 => Ohms(coil * track / (coil + track)),
        _ => Ohms(coil),
    })
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::trace::Trace;
    use crate::{Changes, Reading, Setting, resistance};
    use proptest::prelude::*;

    fn touched(strings: OnTouch, sleeve: Option<OnTouch>) -> Touched {
        Touched { strings: Some(strings), sleeve, ..Touched::default() }
    }

    fn causes(told: &Told) -> Vec<Cause> {
        told.causes.iter().map(|it| it.cause).collect()
    }

    /// A practitioners' case, no source: the strings do nothing, the plug's sleeve quiets it, and the wire to the
    /// tailpiece's stud came out by a gentle pull.
    #[test]
    fn a_broken_string_ground() {
        let told = hum_by_touch(&touched(OnTouch::NoChange, Some(OnTouch::Better)));
        assert_eq!(causes(&told), [Cause::StringGroundBroken]);
        assert_eq!(told.causes[0].spoken_for_by, [SpokenBy::Strings, SpokenBy::Sleeve]);
        let first = told.test_points[0];
        assert_eq!((first.from, first.to), (Spot::Strings, Spot::Sleeve));
        assert_eq!(first.should, Should::BeUnder(Ohms(1.0)));
        assert_eq!(told.cautions[0], Caution::ProveProtectiveEarth);
        assert!(told.cautions.contains(&Caution::StopAtAnyTingle));
    }

    /// A practitioners' case, no source: rewired with wire of one colour, unbearable when any metal is touched.
    #[test]
    fn tip_and_sleeve_exchanged() {
        let told = hum_by_touch(&touched(OnTouch::Worse, None));
        assert_eq!(causes(&told), [Cause::TipAndSleeveExchanged]);
        let first = told.test_points[0];
        assert_eq!((first.from, first.to, first.should), (Spot::Tip, Spot::Bridge, Should::BeNoughtIfSo));
        assert_eq!(told.try_next, [SpokenBy::Sleeve]);
    }

    #[test]
    fn better_on_the_strings_is_normal_or_a_poor_ground() {
        let told = hum_by_touch(&touched(OnTouch::Better, None));
        assert_eq!(causes(&told), [Cause::ScreenedByHand, Cause::StringGroundPoor]);
    }

    #[test]
    fn no_touch_that_does_anything_leaves_coils_cable_and_amplifier() {
        let told = hum_by_touch(&touched(OnTouch::NoChange, Some(OnTouch::NoChange)));
        assert_eq!(
            causes(&told),
            [Cause::CoilsInField, Cause::CableOrAmplifier, Cause::StringGroundBroken],
            "a broken string ground is not ruled out"
        );
    }

    /// A practitioners' case, no source: the sound cuts out when a string touches the cover of a coil whose leads were
    /// exchanged. The reading is held against the same circuit traced and solved.
    #[test]
    fn a_cover_on_the_hot_lead() {
        let cut_out = CutOut { coil: Some(Ohms(7500.0)), track: Some(Ohms(250e3)) };
        let told = hum_by_touch(&Touched { cut_out: Some(cut_out), ..Touched::default() });
        assert_eq!(causes(&told), [Cause::CoverOnHot]);
        assert_eq!(told.test_points[0].should, Should::BeNoughtIfSo);
        let Should::BeAboutIfSo(Some(Ohms(predicted))) = told.test_points[1].should else {
            panic!("the coil's ohms were given")
        };
        let trace = "coil neck 7500 covered\n pot volume 250k\n jack jack\n\
            join neck.hot volume.3 seen\n join neck.cover neck.hot seen\n join neck.ground jack.sleeve seen\n\
            join volume.1 jack.sleeve seen\n join volume.2 jack.tip seen\n";
        let circuit = Trace::read(trace).unwrap().circuit().unwrap();
        let wired = circuit.possibilities().next().unwrap();
        let [cover, sleeve, hot] =
            ["neck.cover", "jack.sleeve", "neck.hot"].map(|lug| circuit.terminal(lug).unwrap());
        let setting = Setting::first(&circuit);
        let read = |to| resistance(&wired, &setting, &Changes::default(), cover, to).unwrap().reading;
        let Reading::Ohms(Ohms(solved)) = read(sleeve) else { panic!("it conducts") };
        assert!((predicted - solved).abs() < 1e-9 * solved);
        assert_eq!(read(hot), Reading::Shorted);
        assert_eq!(cover_to_sleeve(CutOut { coil: Some(Ohms(7500.0)), track: None }), Some(Ohms(7500.0)));
        assert_eq!(cover_to_sleeve(CutOut::default()), None);
    }

    #[test]
    fn nothing_tried_tells_nothing() {
        let told = hum_by_touch(&Touched::default());
        assert!(told.causes.is_empty() && told.test_points.is_empty());
        assert_eq!(told.try_next, [SpokenBy::Strings, SpokenBy::Sleeve]);
    }

    fn on_touch() -> impl Strategy<Value = Option<OnTouch>> {
        prop::sample::select(vec![None, Some(OnTouch::Better), Some(OnTouch::Worse), Some(OnTouch::NoChange)])
    }

    proptest! {
        /// Whatever was touched, the cautions come first, and everything that can be metered at a cause is named.
        #[test]
        fn cautions_always_come_first(
            strings in on_touch(), sleeve in on_touch(), cover in on_touch(), cut in any::<bool>(),
        ) {
            let cut_out = cut.then(CutOut::default);
            let told = hum_by_touch(&Touched { strings, sleeve, cover, cut_out });
            prop_assert_eq!(told.cautions, CAUTIONS);
            let metered = |cause: Cause| told.test_points.iter().any(|point| point.decides == cause);
            for it in &told.causes {
                prop_assert!(!it.spoken_for_by.is_empty());
                prop_assert!(metered(it.cause) || it.cause == Cause::CoilsInField);
            }
        }
    }
}
