//! The tables, read.

use crate::table::{Row, TableFault, rows, said};

use super::{Flag, Flaw, Kind, KnownCheck, Means, NotKnown, Outcome, Range, Shows, WordsSay};

/// All of them.
#[derive(Debug, Clone, Default, PartialEq)]
pub(super) struct Tables {
    pub(super) unknowns: Vec<NotKnown>,
    pub(super) checks: Vec<KnownCheck>,
    pub(super) words: Vec<WordsSay>,
}

/// Those that come with the program.
pub(super) fn built_in() -> Result<Tables, TableFault> {
    let unknowns = unknowns(include_str!("../../data/viewing-unknowns.tsv"))?;
    let mut checks = checks(include_str!("../../data/viewing-checks.tsv"))?;
    put_shows(include_str!("../../data/viewing-shows.tsv"), &unknowns, &mut checks)?;
    let words = words(include_str!("../../data/viewing-words.tsv"), &unknowns)?;
    Ok(Tables { unknowns, checks, words })
}

fn unknowns(text: &'static str) -> Result<Vec<NotKnown>, TableFault> {
    let heading = ["unknown", "kinds", "name", "state", "probability", "share lost", "hours", "source"];
    let mut all: Vec<NotKnown> = Vec::new();
    for row in rows("viewing unknowns", text, heading)? {
        let [id, of_kinds, name, words, probability, share_lost, hours, source] = row.fields;
        let flaw = Flaw {
            words,
            probability: range(&row, probability)?,
            share_lost: range(&row, share_lost)?,
            hours: range(&row, hours)?,
            source,
        };
        match all.iter_mut().find(|known| known.id == id) {
            Some(known) => known.flaws.push(flaw),
            None => all.push(NotKnown { id, name, kinds: kinds(&row, of_kinds)?, flaws: vec![flaw] }),
        }
    }
    Ok(all)
}

fn checks(text: &'static str) -> Result<Vec<KnownCheck>, TableFault> {
    let heading = [
        "check",
        "kinds",
        "flag",
        "means",
        "picture",
        "minutes",
        "what to do",
        "outcomes",
        "caution",
        "source",
    ];
    let one = |row: &Row<'static, 10>| {
        let [name, of_kinds, flagged, by, picture, minutes, to_do, outcomes, caution, source] = row.fields;
        Ok(KnownCheck {
            name,
            kinds: kinds(row, of_kinds)?,
            flag: flag(row, flagged)?,
            means: means(row, by)?,
            from_picture: row.yes(picture)?,
            minutes: range(row, minutes)?,
            to_do,
            outcomes: outcomes.split(';').map(|one| outcome(row, one)).collect::<Result<_, _>>()?,
            caution: said(caution),
            source,
            shows: Vec::new(),
        })
    };
    rows("viewing checks", text, heading)?.iter().map(one).collect()
}

fn put_shows(text: &'static str, unknowns: &[NotKnown], checks: &mut [KnownCheck]) -> Result<(), TableFault> {
    for row in rows("viewing shows", text, ["check", "unknown", "shows"])? {
        let [name, unknown, shares] = row.fields;
        let states = states_of(&row, unknown, unknowns)?;
        let known = checks.iter_mut().find(|check| check.name == name);
        let check = known.ok_or_else(|| row.wrong(name, "the name of a check"))?;
        let shares: Vec<Vec<f64>> =
            shares.split('/').map(|shares| numbers(&row, shares)).collect::<Result<_, _>>()?;
        if shares.len() != states || shares.iter().any(|row| row.len() != check.outcomes.len()) {
            let right = format!("{states} rows of {} shares, parted by strokes", check.outcomes.len());
            return Err(row.wrong(row.fields[2], &right));
        }
        check.shows.push(Shows { unknown, shares });
    }
    Ok(())
}

fn words(text: &'static str, unknowns: &[NotKnown]) -> Result<Vec<WordsSay>, TableFault> {
    let one = |row: &Row<'static, 3>| {
        let [words, unknown, said] = row.fields;
        let shares = numbers(row, said)?;
        if shares.len() != states_of(row, unknown, unknowns)? {
            return Err(row.wrong(said, "one share for each state of the unknown"));
        }
        Ok(WordsSay { words, unknown, said: shares })
    };
    rows("viewing words", text, ["words", "unknown", "said"])?.iter().map(one).collect()
}

fn states_of(row: &Row<'_, 3>, unknown: &str, unknowns: &[NotKnown]) -> Result<usize, TableFault> {
    let known = unknowns.iter().find(|known| known.id == unknown);
    known.map(|known| known.flaws.len() + 1).ok_or_else(|| row.wrong(unknown, "the id of an unknown"))
}

fn numbers<const N: usize>(row: &Row<'_, N>, field: &str) -> Result<Vec<f64>, TableFault> {
    let one = |number: &str| number.parse().map_err(|_| row.wrong(number, "a number such as 0.15"));
    field.split_whitespace().map(one).collect()
}

fn range<const N: usize>(row: &Row<'_, N>, field: &str) -> Result<Range, TableFault> {
    match numbers(row, field)?[..] {
        [least, stated, most] if least <= stated && stated <= most => Ok(Range { least, stated, most }),
        _ => Err(row.wrong(field, "three numbers that rise: least, stated, most")),
    }
}

fn kinds<const N: usize>(row: &Row<'_, N>, field: &str) -> Result<Vec<Kind>, TableFault> {
    let one = |word: &str| match word {
        "guitar" => Ok(Kind::Guitar),
        "bass" => Ok(Kind::Bass),
        "steel" => Ok(Kind::LapSteel),
        "amp" => Ok(Kind::Amplifier),
        _ => Err(row.wrong(word, "guitar, bass, steel or amp")),
    };
    field.split_whitespace().map(one).collect()
}

fn flag<const N: usize>(row: &Row<'_, N>, field: &str) -> Result<Option<Flag>, TableFault> {
    match field {
        "-" => Ok(None),
        "hazard" => Ok(Some(Flag::Hazard)),
        "legal" => Ok(Some(Flag::Legal)),
        _ => Err(row.wrong(field, "hazard, legal or -")),
    }
}

fn means<const N: usize>(row: &Row<'_, N>, field: &str) -> Result<Means, TableFault> {
    match field {
        "ask" => Ok(Means::Ask),
        "look" => Ok(Means::Look),
        "torch" => Ok(Means::Torch),
        "ultraviolet" => Ok(Means::Ultraviolet),
        "meter" => Ok(Means::Meter),
        "listen" => Ok(Means::Listen),
        "strings off" => Ok(Means::StringsOff),
        "guard lifted" => Ok(Means::GuardLifted),
        _ => {
            Err(row.wrong(field, "ask, look, torch, ultraviolet, meter, listen, strings off or guard lifted"))
        }
    }
}

fn outcome<const N: usize>(row: &Row<'_, N>, text: &'static str) -> Result<Outcome, TableFault> {
    let (seen, means) =
        text.split_once('=').ok_or_else(|| row.wrong(text, "what is seen = what it means"))?;
    Ok(Outcome { seen: seen.trim(), means: means.trim() })
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::checks::{Asked, End, Known, viewing};
    use crate::money::{Currency, Money};
    use crate::viewing::{Price, Shown};

    fn pounds(text: &str) -> Money {
        Money::read(text, Currency::of("GBP").expect("known")).expect("a sum")
    }

    fn asked() -> Asked {
        let price = Price::between(pounds("900"), pounds("2200")).expect("a range");
        Asked { sound: pounds("2600"), price, hour: Some(pounds("50")), heard: vec![] }
    }

    #[test]
    fn the_tables_are_read_without_a_fault() {
        let tables = built_in().unwrap_or_else(|fault| panic!("{fault}"));
        assert!(tables.checks.len() >= 60, "{}", tables.checks.len());
        for unknown in &tables.unknowns {
            let most: f64 = unknown.flaws.iter().map(|flaw| flaw.probability.most).sum();
            assert!(most < 1.0, "{}", unknown.id);
            let ranges = unknown.flaws.iter().flat_map(|flaw| [flaw.probability, flaw.share_lost]);
            assert!(ranges.clone().all(|range| 0.0 <= range.least && range.most <= 1.0), "{}", unknown.id);
            for kind in &unknown.kinds {
                let told = |check: &&KnownCheck| check.shows.iter().any(|shows| shows.unknown == unknown.id);
                let here = tables.checks.iter().filter(|check| check.kinds.contains(kind));
                assert!(here.clone().any(|check| told(&check)), "nothing tells of {}", unknown.id);
            }
        }
    }

    #[test]
    fn a_check_is_named_once_and_can_be_kept_in_a_line() {
        let tables = built_in().expect("read");
        for check in &tables.checks {
            assert_eq!(tables.checks.iter().filter(|other| other.name == check.name).count(), 1);
            assert!(!check.name.contains([',', ':', ';']), "{}", check.name);
            let seen: Vec<&str> = check.outcomes.iter().map(|outcome| outcome.seen).collect();
            assert!(seen.iter().all(|seen| !seen.is_empty() && seen.len() <= 40), "{seen:?}");
            assert!(check.outcomes.iter().all(|outcome| !outcome.means.is_empty()), "{}", check.name);
            let twice = seen.iter().enumerate().any(|(at, one)| seen[..at].contains(one));
            assert!(!twice && seen.len() >= 2, "{seen:?}");
            for kind in &check.kinds {
                let known = Known::of(*kind);
                // A lap steel has a finish and no neck that breaks: what a kind does not have is passed over.
                let about = check.shows.iter().any(|shows| known.place(shows.unknown).is_some());
                assert!(about, "{}: {kind:?}", check.name);
            }
        }
    }

    #[test]
    fn hazards_and_law_come_first() {
        for kind in Kind::ALL {
            let known = Known::of(kind);
            let flags: Vec<bool> = known.checks.iter().map(|check| check.flag.is_some()).collect();
            assert!(flags[0] && flags.is_sorted_by(|one, next| one >= next), "{kind:?}");
        }
        for check in &built_in().expect("read").checks {
            if check.means == Means::Ultraviolet {
                assert!(check.caution.contains("eyes and skin"), "{}", check.name);
            }
            if check.means.wants_leave() {
                let says = format!("{} {}", check.to_do, check.caution).to_lowercase();
                assert!(says.contains("leave") || says.contains("lifted"), "{}", check.name);
            }
            if check.kinds == [Kind::Amplifier] {
                assert!(!check.means.wants_leave(), "an amplifier is not opened: {}", check.name);
            }
        }
    }

    #[test]
    fn every_kind_is_a_question_at_every_end_and_every_answer_can_be_taken() {
        for kind in Kind::ALL {
            let known = Known::of(kind);
            for end in [End::Least, End::Stated, End::Most] {
                let viewing = viewing(&known, &asked(), |_| end).expect("a viewing");
                let mut answers = Vec::new();
                for (at, check) in viewing.checks().iter().enumerate() {
                    answers.push((at, Shown::Outcome(check.outcomes() - 1)));
                    let standing = viewing.after(&answers).expect("no answer excludes the others");
                    assert!(standing.expected_worth().minor.is_finite());
                }
            }
        }
    }

    #[test]
    fn a_worse_look_is_never_better_news_and_good_looks_raise_the_worth() {
        for kind in Kind::ALL {
            let known = Known::of(kind);
            let viewing = viewing(&known, &asked(), |_| End::Stated).expect("a viewing");
            let standing = viewing.after(&[]).expect("no answers");
            for (at, check) in known.checks.iter().enumerate() {
                let worth: Vec<f64> = standing.outcomes(at).iter().map(|seen| seen.worth.minor).collect();
                let (good, bad) = (worth[0], worth[worth.len() - 1]);
                assert!(good >= standing.expected_worth().minor - 1e-6, "{}: {worth:?}", check.name);
                assert!(bad <= standing.expected_worth().minor + 1e-6, "{}: {worth:?}", check.name);
            }
        }
    }

    #[test]
    fn words_weigh_against_what_they_name() {
        for words in &built_in().expect("read").words {
            let kind = Kind::ALL.into_iter().find(|kind| Known::of(*kind).place(words.unknown).is_some());
            let known = Known::of(kind.expect("a kind has it"));
            assert!(viewing(&known, &asked(), |_| End::Stated).is_ok());
            assert!(words.said.iter().all(|share| *share > 0.0 && *share < 1.0), "{}", words.words);
        }
    }

    #[test]
    fn a_fault_in_a_table_names_its_place() {
        let heading = "unknown\tkinds\tname\tstate\tprobability\tshare lost\thours\tsource\n";
        let row = |kinds: &str, probability: &str| -> &'static str {
            let row = format!("{heading}rod\t{kinds}\trod\tseized\t{probability}\t0 0 0\t0 0 0\tnone\n");
            Box::leak(row.into_boxed_str())
        };
        let fault = unknowns(row("lute", "0 0 0")).expect_err("no such kind").to_string();
        assert!(fault.contains("line 2") && fault.contains("guitar, bass"), "{fault}");
        let fault = unknowns(row("bass", "0.3 0.2 0.4")).expect_err("it falls").to_string();
        assert!(fault.contains("rise"), "{fault}");
        let fault = unknowns(row("bass", "often")).expect_err("no number").to_string();
        assert!(fault.contains("0.15"), "{fault}");
    }
}
