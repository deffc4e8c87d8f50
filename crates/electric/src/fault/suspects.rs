//! From what was weighed to what is said.

use asfound_measure::Ohms;
use asfound_weigh::{Evidence as Piece, Probability, Question};

use super::answer::{Answer, Contradiction, FaultError, Look, SpeaksOf, Suspicion};
use super::assumed::Options;
use super::check::check;
use super::edits::Places;
use super::evidence::{About, Evidence, Heard};
use super::levels::sign_known;
use super::looks::{Expectations, leading, looks};
use super::weighing::{Bench, Counts, Standing, log_sum};
use crate::circuit::Circuit;
use crate::jack::Shown;
use crate::state::Wired;
use crate::touch::Caution;

/// Suspicions told; the rest are less probable than any of them.
pub const MOST_RANKED: usize = 40;

/// Something heard that the leader gives less than this is not explained by it.
const NOT_EXPLAINED: f64 = 0.1;

/// Which faults, or pairs of them, account for what was metered and heard, and what to look at next.
///
/// Every way that unknown joins can go is weighed beside the others, and so is the circuit without a fault. A trace that
/// is wrong shows as something that nothing in the list explains.
///
/// # Errors
/// [`FaultError`] with the place, where the evidence does not fit the circuit or the circuit is too large.
pub fn suspects(circuit: &Circuit, evidence: &Evidence, options: &Options) -> Result<Answer, FaultError> {
    check(circuit, evidence)?;
    options.priors.check()?;
    options.tolerances.check()?;
    let places = Places::of(circuit).ok_or(FaultError::NoJack)?;
    let ways: Vec<Wired> = circuit.possibilities().collect();
    let mut counts = Counts::default();
    let mut benches: Vec<Bench> = Vec::new();
    let mut standing: Vec<Standing> = Vec::new();
    for (way, wired) in ways.iter().enumerate() {
        let mut bench = Bench::new((way, ways.len() as f64), wired, places, evidence, options);
        standing.extend(bench.weigh(&mut counts)?);
        benches.push(bench);
    }
    let standing = merged(standing);
    let (mut ranked, not_listed) = ranked(&standing, evidence, options);
    let expectations = Expectations::new(&benches, &standing, evidence);
    for (place, suspicion) in ranked.iter_mut().enumerate() {
        suspicion.not_told_from = expectations.not_told_from(place);
    }
    let leaders = leading(&ranked);
    let next = looks(&benches, &standing, &expectations, &leaders, evidence);
    let cautions = cautions(evidence, next.iter().map(|it| &it.look));
    let contradictions = contradictions(evidence, standing.first());
    let known = sign_known(&ways[0]);
    let unknown = known.iter().any(Option::is_none) && known.len() > 1;
    let taken_in_phase = if unknown { circuit.coils().map(|(part, _)| part).collect() } else { Vec::new() };
    let Counts { singles, pairs, left_out } = counts;
    Ok(Answer {
        ranked,
        not_listed,
        next,
        cautions,
        contradictions,
        taken_in_phase,
        singles,
        pairs,
        pairs_left_out: left_out,
    })
}

/// One entry for each set of faults, with the weights of all ways that the joins can go; the most probable first.
fn merged(mut standing: Vec<Standing>) -> Vec<Standing> {
    standing.sort_by(|a, b| a.faults.cmp(&b.faults).then(b.log.total_cmp(&a.log)));
    let mut all: Vec<Standing> = Vec::new();
    for it in standing {
        match all.last_mut() {
            Some(last) if last.faults == it.faults => last.log = log_sum(&[last.log, it.log]),
            _ => all.push(it),
        }
    }
    all.sort_by(|a, b| b.log.total_cmp(&a.log));
    all.truncate(MOST_RANKED);
    all
}

/// The share of likelihood that what is not listed has: now and then it leaves a piece as it should be, otherwise
/// anything may be seen.
fn if_not_listed(evidence: &Evidence, about: About, design: f64) -> f64 {
    let anything: f64 = match about {
        About::Metered(at) => match evidence.metered[at].shown {
            Shown::Ohms(_) => 1.0 / 18.4,
            Shown::Over(_) => 0.3,
        },
        About::Heard(_) => 0.3,
    };
    libm::log(0.5 * anything + 0.1 * libm::exp(design))
}

fn pieces(evidence: &Evidence) -> Vec<About> {
    let metered = (0..evidence.metered.len()).map(About::Metered);
    metered.chain((0..evidence.heard.len()).map(About::Heard)).collect()
}

fn of_piece(standing: &Standing, about: About) -> f64 {
    match about {
        About::Metered(at) => standing.metered[at],
        About::Heard(at) => standing.heard[at],
    }
}

fn ranked(standing: &[Standing], evidence: &Evidence, options: &Options) -> (Vec<Suspicion>, Probability) {
    let pieces = pieces(evidence);
    let most_of = |about| standing.iter().map(|it| of_piece(it, about)).fold(f64::NEG_INFINITY, f64::max);
    // What the sizes of a fault cost is counted with its prior share.
    let before = |it: &Standing| it.log - pieces.iter().map(|about| of_piece(it, *about)).sum::<f64>();
    let most = standing.iter().map(before).fold(f64::NEG_INFINITY, f64::max);
    let explanations = standing
        .iter()
        .enumerate()
        .map(|(place, it)| (place, libm::exp((before(it) - most).max(-300.0))))
        .collect();
    let Ok(mut question) = Question::new(explanations, options.priors.not_listed) else {
        return (Vec::new(), Probability::of_share(1.0));
    };
    for about in pieces {
        let mut piece = Piece::new(about, standing.iter().map(|it| of_piece(it, about)).collect());
        piece.if_none_of_these = Some(if_not_listed(evidence, about, most_of(about)));
        // Every likelihood is finite, because each leaves room for a misreading, so none is refused.
        let _ = question.add(piece);
    }
    let weighed = question.weigh();
    let suspicion = |(place, it): (usize, &Standing)| Suspicion {
        faults: it.faults.clone(),
        sizes: it.sizes.clone(),
        probability: Probability::of_share(weighed.share(place)),
        speaks: weighed
            .speaks(place)
            .into_iter()
            .map(|speaks| SpeaksOf {
                about: question.evidence()[speaks.evidence].about,
                side: speaks.side(),
                strength: speaks.strength(),
                log_ratio: speaks.log_ratio,
            })
            .collect(),
        not_told_from: Vec::new(),
    };
    (standing.iter().enumerate().map(suspicion).collect(), weighed.none_of_these())
}

fn cautions<'l>(evidence: &Evidence, looks: impl Iterator<Item = &'l Look>) -> Vec<Caution> {
    let hums = |heard: &Heard| {
        matches!(heard, Heard::HumsLoud | Heard::HumOnTouch { .. } | Heard::CutsOutOnCover { .. })
    };
    let looks: Vec<&Look> = looks.collect();
    let touch = evidence.heard.iter().any(hums) || looks.iter().any(|look| matches!(look, Look::Touch(_)));
    let mut all = Vec::new();
    if touch && !evidence.earth_proved {
        all.push(Caution::ProveProtectiveEarth);
    }
    if touch {
        all.push(Caution::StopAtAnyTingle);
    }
    if looks.iter().any(|look| matches!(look, Look::Meter(_))) {
        all.push(Caution::UnplugBeforeMetering);
    }
    all
}

fn contradictions(evidence: &Evidence, leader: Option<&Standing>) -> Vec<Contradiction> {
    let mut all = Vec::new();
    for (second, it) in evidence.metered.iter().enumerate() {
        for (first, other) in evidence.metered[..second].iter().enumerate() {
            let (one, two) = (&other.probed, &it.probed);
            let ends = (one.from, one.to) == (two.from, two.to) || (one.from, one.to) == (two.to, two.from);
            if ends && one.setting == two.setting && differ(other.shown, it.shown) {
                all.push(Contradiction::ReadTwice { first, second });
            }
        }
    }
    if let Some(leader) = leader {
        let misread = leader.misread.iter().map(|at| About::Metered(*at));
        let heard = leader.heard.iter().enumerate().filter(|(_, log)| **log < libm::log(NOT_EXPLAINED));
        let not_explained = misread.chain(heard.map(|(at, _)| About::Heard(at)));
        all.extend(not_explained.map(|about| Contradiction::NotExplained { about }));
    }
    all
}

/// Whether one probing cannot give both: beyond three standard uncertainties, an ohm of contact and one per cent.
fn differ(one: Shown, other: Shown) -> bool {
    match (one, other) {
        (Shown::Ohms(one), Shown::Ohms(other)) => {
            let own = 3.0 * (one.standard_uncertainty.0 + other.standard_uncertainty.0);
            let Ohms(most) = if one.value.0 > other.value.0 { one.value } else { other.value };
            (one.value.0 - other.value.0).abs() > own + 1.0 + 0.01 * most
        }
        (Shown::Over(limit), Shown::Ohms(ohms)) | (Shown::Ohms(ohms), Shown::Over(limit)) => {
            ohms.value.0 + 3.0 * ohms.standard_uncertainty.0 < limit.0
        }
        (Shown::Over(_), Shown::Over(_)) => false,
    }
}
