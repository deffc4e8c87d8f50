//! Polarity in words: which coils agree, which lead goes positive, what to swap and in which order.

use asfound_measure::{Ohms, engineering};
use asfound_study::polarity::{
    Change, Evidence, Explanation, HookUps, HumTogether, Instead, Lead, NotCancelling, OddOneOut, Outcome,
    Phase, PlannedJoin, Polarity, PolarityStudied, Predicted, Question, Remedy, Sign, Step as Do,
};

use crate::lists::{and, capital, or};
use crate::sheet::{Rest, Step, Table, Told};

const SOLDER: &str = "Old solder holds lead: extract the fumes, wash hands. Unplug first.";

/// Every finding about polarity.
pub(crate) fn polarity(studied: &PolarityStudied) -> Vec<Told> {
    let mut told: Vec<Told> =
        studied.said.unusable.iter().map(|(seq, missing)| unusable(*seq, missing)).collect();
    match &studied.solved {
        Err(error) => told.push(Told {
            id: "polarity".into(),
            sentence: "What was said of polarity does not fit together yet.".into(),
            sure: format!("{}.", capital(&error.to_string())),
            ..Told::default()
        }),
        Ok(solved) => {
            told.push(strings(studied, solved));
            told.extend(studied.hook_ups.iter().filter_map(|(a, b, hook_ups)| {
                hook_ups.as_ref().ok().map(|found| hook_up(studied, *a, *b, found))
            }));
            told.extend(
                studied
                    .planned
                    .iter()
                    .map(|(seq, changes, predicted)| plan(studied, *seq, changes, predicted)),
            );
        }
    }
    told.extend(studied.joins.iter().map(join));
    told.extend(studied.not_cancelling.iter().map(|it| not_cancelling(studied, it)));
    told
}

fn unusable(seq: u64, missing: &str) -> Told {
    Told {
        id: format!("tap-{seq}"),
        sentence: format!("The tap in entry {seq} lacks {missing}."),
        sure: "It is said as “neck coil: tap, steel touching, + on white, needle up”.".into(),
        rests_on: vec![Rest::on(seq)],
        ..Told::default()
    }
}

fn name(studied: &PolarityStudied, coil: usize) -> &str {
    &studied.said.found.coils[coil].name
}

fn names(studied: &PolarityStudied, coils: &[usize]) -> String {
    let names: Vec<&str> = coils.iter().map(|coil| name(studied, *coil)).collect();
    and(&names)
}

fn rests(studied: &PolarityStudied) -> Vec<Rest> {
    let said = &studied.said;
    let mut seqs: Vec<u64> = said.tap_entries.iter().chain(&said.pair_entries).copied().collect();
    seqs.extend(said.coil_entries.iter().flatten());
    seqs.sort_unstable();
    seqs.dedup();
    Rest::on_all(seqs)
}

/// Which coils agree.
fn strings(studied: &PolarityStudied, solved: &Polarity) -> Told {
    let (sentence, sure) = match solved.strings.odd.as_slice() {
        [OddOneOut::None] if studied.said.found.coils.len() > 1 => (
            "All coils agree: any two together sound full.".to_owned(),
            "Winding, magnet and connection taken together; each by itself may still differ.".to_owned(),
        ),
        [OddOneOut::One(coil)] => (
            format!("The {} is the odd one out: it stands against the others.", name(studied, *coil)),
            "Each sounds right alone; two that stand against each other sound thin together.".to_owned(),
        ),
        [OddOneOut::Sides { one, other }] => (
            format!(
                "The {} and the {} are out of phase with each other.",
                names(studied, one),
                names(studied, other)
            ),
            "Which of them is the odd one, two sides alone cannot say.".to_owned(),
        ),
        _ => (
            "Which coil is the odd one out cannot be told yet.".to_owned(),
            "What nobody looked at stays unknown; nothing is taken for granted.".to_owned(),
        ),
    };
    let mut next = missing_pairs(studied, solved);
    // While it is not decided who is odd there is no remedy, so one of the two is empty.
    next.extend(studied.remedies.first().map(|best| remedy(studied, best)));
    next.truncate(1);
    let mut working = contradictions(studied, solved);
    working.extend(
        studied
            .remedies
            .iter()
            .skip(1)
            .map(|other| format!("The other way: {}.", steps(studied, &other.steps))),
    );
    Told {
        id: "polarity".into(),
        sentence,
        sure,
        next,
        rests_on: rests(studied),
        working,
        tables: vec![coils(studied, solved), pairs(studied, solved)],
        would_change: vec!["A tap on each coil with the meter on its own leads, or a compass kept clear of strong rods, which can turn its needle over.".into()],
        ..Told::default()
    }
}

fn missing_pairs(studied: &PolarityStudied, solved: &Polarity) -> Vec<Step> {
    let heard = |(a, b): &(usize, usize)| format!("the {} with the {}", name(studied, *a), name(studied, *b));
    let missing: Vec<String> = solved.strings.missing.iter().map(heard).collect();
    if missing.is_empty() || studied.said.found.coils.len() < 2 {
        return Vec::new();
    }
    vec![Step {
        id: "hear-pairs".into(),
        words: format!("Listen to {}: full or thin?", and(&missing)),
        why: "It needs no tool, and settles which coils agree. Or tap each: steel touching, meter on its leads.".into(),
        ..Step::default()
    }]
}

fn remedy(studied: &PolarityStudied, remedy: &Remedy) -> Step {
    Step {
        id: format!("swap-{}", remedy.swap.iter().map(usize::to_string).collect::<Vec<_>>().join("-")),
        words: format!("{}.", capital(&steps(studied, &remedy.steps))),
        why: "It disturbs least: metal on a lead that would become hot comes free first. Winding, magnets and wire stay as they are.".into(),
        caution: SOLDER.into(),
        ..Step::default()
    }
}

/// The steps of a remedy in their order.
fn steps(studied: &PolarityStudied, steps: &[Do]) -> String {
    let one = |step: &Do| match step {
        Do::MeterMetal { coil } => format!(
            "meter the {}'s cover or plate against both its leads: is it tied to one?",
            name(studied, *coil)
        ),
        Do::FreeMetal { coil, lead } => format!(
            "free the {}'s cover or plate from its {}",
            name(studied, *coil),
            lead_name(studied, *coil, *lead)
        ),
        Do::GroundMetal { coil } => format!(
            "ground the {}'s metal by a wire of its own, a third lead that goes into the record",
            name(studied, *coil)
        ),
        Do::SwapLeads { coil } => format!("swap the two leads of the {}", name(studied, *coil)),
        Do::CheckMetal { coil } => format!(
            "check the {}'s metal: under an ohm to the jack's sleeve, the coil's ohms to its hot lead",
            name(studied, *coil)
        ),
        Do::Hear { a, b } => format!("hear the {} with the {} again", name(studied, *a), name(studied, *b)),
    };
    steps.iter().map(one).collect::<Vec<_>>().join("; then ")
}

fn lead_name(studied: &PolarityStudied, coil: usize, lead: Lead) -> &str {
    studied.said.found.coils[coil].name_of(lead)
}

fn sign(sign: Option<Sign>, plus: &str, minus: &str) -> String {
    match sign {
        Some(Sign::Plus) => plus,
        Some(Sign::Minus) => minus,
        None => "not known",
    }
    .to_owned()
}

fn coils(studied: &PolarityStudied, solved: &Polarity) -> Table {
    let columns = [
        "coil",
        "positive when steel touches",
        "pole at the strings",
        "turns, from ground to hot",
        "hot lead",
    ];
    let mut table = Table::with("Three facts of each coil; what nobody looked at is not known", &columns);
    table.rows = solved
        .coils
        .iter()
        .enumerate()
        .map(|(coil, it)| {
            let lead = |lead: Option<Lead>| {
                lead.map_or("not known".to_owned(), |lead| lead_name(studied, coil, lead).to_owned())
            };
            vec![
                name(studied, coil).to_owned(),
                lead(it.positive_end),
                sign(it.magnet, "north", "south"),
                sign(it.hum, "clockwise", "counter-clockwise"),
                lead(it.hot),
            ]
        })
        .collect();
    table
}

fn pairs(studied: &PolarityStudied, solved: &Polarity) -> Table {
    let mut table = Table::with("Each pair together", &["pair", "tone", "hum", "poles at the strings"]);
    table.rows = solved
        .relations
        .iter()
        .map(|it| {
            let tone = it.phase.map_or("not known", |phase| if phase == Phase::In { "full" } else { "thin" });
            let hum = it
                .hum
                .map_or("not known", |hum| if hum == HumTogether::Cancels { "less" } else { "no less" });
            let poles =
                it.magnets_alike.map_or("not known", |alike| if alike { "alike" } else { "opposite" });
            vec![names(studied, &[it.a, it.b]), tone.to_owned(), hum.to_owned(), poles.to_owned()]
        })
        .collect();
    table
}

fn contradictions(studied: &PolarityStudied, solved: &Polarity) -> Vec<String> {
    let one = |evidence: &Evidence| match *evidence {
        Evidence::Winding { coil } => format!("the winding sense of the {}", name(studied, coil)),
        Evidence::Compass { coil } => format!("the compass at the {}", name(studied, coil)),
        Evidence::Hot { coil } => format!("the hot lead of the {}", name(studied, coil)),
        Evidence::Tap(at) => format!("the tap in entry {}", studied.said.tap_entries[at]),
        Evidence::Tone(at) => format!("the tone in entry {}", studied.said.pair_entries[at]),
        Evidence::Hum(at) => format!("the hum in entry {}", studied.said.pair_entries[at]),
    };
    solved
        .contradictions
        .iter()
        .map(|it| {
            let pieces: Vec<String> = it.evidence.iter().map(one).collect();
            format!("These cannot all be true, and nothing rests on them: {}. One is a slip, or a coil has another fault.", and(&pieces))
        })
        .collect()
}

/// The two coils of a pair on four leads.
fn hook_up(studied: &PolarityStudied, a: usize, b: usize, found: &HookUps) -> Told {
    let series: Vec<String> = found
        .series
        .iter()
        .map(|it| {
            format!(
                "hot {}, join {} and {}, ground {}",
                it.hot.name, it.joined[0].name, it.joined[1].name, it.ground.name
            )
        })
        .collect();
    let ohms =
        |ohms: Option<Ohms>| ohms.map_or("not metered".to_owned(), |it| engineering(it.0, 3, Ohms::SYMBOL));
    let wrong: Vec<String> =
        found.out_of_phase.iter().map(|[a, b]| format!("{} with {}", a.name, b.name)).collect();
    Told {
        id: format!("hook-up-{a}-{b}"),
        sentence: format!(
            "In series and in phase the {} and the {} go {}.",
            name(studied, a),
            name(studied, b),
            or(&series)
        ),
        sure: format!(
            "Then the pair reads {} in series, {} side by side. Joining {} puts them out of phase, and no ohms show it.",
            ohms(found.series_ohms),
            ohms(found.parallel_ohms),
            or(&wrong)
        ),
        rests_on: rests(studied),
        working: vec![format!(
            "Side by side: {} to hot, {} to ground. A bare wire is a screen and always goes to ground. Hum: {}.",
            and(&found.parallel.hot.each_ref().map(|it| it.name.as_str())),
            and(&found.parallel.ground.each_ref().map(|it| it.name.as_str())),
            match found.hum {
                Some(HumTogether::Cancels) => "cancels",
                Some(HumTogether::Adds) => "adds, for both magnets stand the same way",
                None => "not known until a compass has been at both",
            }
        )],
        ..Told::default()
    }
}

/// A swap that somebody means to make.
fn plan(studied: &PolarityStudied, seq: u64, changes: &[Change], predicted: &Predicted) -> Told {
    let swapped: Vec<usize> = changes
        .iter()
        .map(|change| match change {
            Change::SwapLeads { coil } | Change::TurnMagnet { coil } => *coil,
        })
        .collect();
    let thin = !predicted.pairs.is_empty() && predicted.pairs.iter().all(|pair| pair.turns_thin());
    let quiet = predicted.pairs.iter().all(|pair| pair.turns_quiet());
    let what = match (thin, quiet) {
        (true, true) => "the hum goes down and the tone goes thin, for the magnets all stand the same way",
        (true, false) => "the tone of its pairs goes thin",
        (false, _) => "what it does to tone and hum hangs on what is not known yet",
    };
    let with: Vec<String> = predicted.pairs.iter().map(|pair| names(studied, &[pair.a, pair.b])).collect();
    let mut next = Vec::new();
    if !predicted.instead.is_empty() {
        let ways: Vec<&str> = predicted
            .instead
            .iter()
            .map(|it| match it {
                Instead::Leave => "leave it as it was made",
                Instead::Screen => "screen the cavity and the leads",
                Instead::DummyCoil => "add a coil without magnets that picks up the same hum",
            })
            .collect();
        next.push(Step {
            id: format!("instead-{seq}"),
            words: format!("Instead: {}.", or(&ways)),
            why: "Full and quiet together needs winding and magnets both reversed; turning original magnets cannot be undone unseen.".into(),
            ..Step::default()
        });
    }
    if !thin && next.is_empty() {
        next.push(Step {
            id: format!("compass-{seq}"),
            words: "Hold a compass near each coil's rods, kept clear of strong ones: north or south at the strings?".into(),
            why: "Full and quiet together needs opposite poles.".into(),
            ..Step::default()
        });
    }
    let live = if predicted.metal_live.is_empty() {
        String::new()
    } else {
        format!(
            " The metal of the {} would become hot: free it and ground it first.",
            names(studied, &predicted.metal_live)
        )
    };
    Told {
        id: format!("plan-{seq}"),
        sentence: format!("If the leads of the {} are swapped, {what}.", names(studied, &swapped)),
        sure: format!("That goes for {}.{live}", and(&with)),
        next,
        rests_on: vec![Rest::on(seq)],
        working: vec!["Swapping leads turns the sign for string and hum together; turning magnets turns the string's alone. In phase and quiet needs opposite magnets.".into()],
        ..Told::default()
    }
}

/// A join that somebody means to make.
fn join(planned: &PlannedJoin) -> Told {
    let [a, b] = &planned.leads;
    let (what, sure) = match planned.outcome {
        Outcome::InPhase => {
            ("the two coils add", "Series in phase; the other two leads go to hot and ground.")
        }
        Outcome::OutOfPhase => (
            "the two coils take from each other, and the pair sounds thin",
            "No reading in ohms would show it; another lead of the second coil makes them add.",
        ),
        Outcome::ShortsCoil => ("one coil is shorted and silent", "Both leads are of that coil."),
        Outcome::CannotTell => ("what it does hangs on taps that are missing", "Tap both coils first."),
    };
    Told {
        id: format!("join-{}", planned.seq),
        sentence: format!("If {a} is joined with {b}, {what}."),
        sure: sure.into(),
        rests_on: vec![Rest::on(planned.seq)],
        ..Told::default()
    }
}

fn not_cancelling(studied: &PolarityStudied, it: &NotCancelling) -> Told {
    let (a, b) = it.coils;
    let remains: Vec<&str> = it.remains.iter().map(|it| explanation(*it)).collect();
    let next = it.questions.first().map(|(question, leads)| {
        let left = leads.iter().map(|lead| lead.explanations.len()).min().unwrap_or_default();
        Step {
            id: format!("hum-question-{}", it.seq),
            words: asked(*question).to_owned(),
            why: format!("Of {} explanations its answer leaves {left} at best.", it.remains.len()),
            ..Step::default()
        }
    });
    let mut table = Table::with("Where each answer leads", &["question", "leaves"]);
    for (question, leads) in &it.questions {
        for lead in leads {
            let left: Vec<&str> = lead.explanations.iter().map(|it| explanation(*it)).collect();
            table.rows.push(vec![asked(*question).to_owned(), or(&left)]);
        }
    }
    Told {
        id: "not-cancelling".into(),
        sentence: format!("Why the {} and the {} together hum no less is not decided.", name(studied, a), name(studied, b)),
        sure: format!("It may be that {}.", or(&remains)),
        next: next.into_iter().collect(),
        tables: vec![table],
        rests_on: vec![Rest::on(it.seq)],
        would_change: vec!["That an outer layer on ground screens a coil is a thought of the trade that nobody settled (common practice, no source).".into()],
        ..Told::default()
    }
}

fn explanation(explanation: Explanation) -> &'static str {
    match explanation {
        Explanation::WoundAlikeInCircuit => "the two run the same way round in circuit",
        Explanation::OneScreenedBetter => "one is screened better than the other",
        Explanation::Unequal => "they pick up unequally",
        Explanation::NotByTheCoils => "the hum does not come in by the coils",
    }
}

fn asked(question: Question) -> &'static str {
    match question {
        Question::FullOrThin => "Do the two sound full or thin together?",
        Question::CompassOfEach => "Which pole has each at the strings, by a compass?",
        Question::HumTogether => "Do they hum together as much as the noisier alone, or clearly less?",
        Question::OuterLead => "Does the outer layer of each go to ground or to hot?",
        Question::MetalGrounded => "Are the poles and covers of both grounded alike?",
        Question::HumOfEach => "Do the two hum alike, each alone?",
    }
}
