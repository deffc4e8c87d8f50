//! Laws that hold whatever the numbers are.

use asfound_weigh::*;
use proptest::collection::vec;
use proptest::prelude::*;
use rand_chacha::ChaCha12Rng;
use rand_chacha::rand_core::{Rng, SeedableRng};

/// A few explanations with priors, and pieces of evidence about them.
fn cases() -> impl Strategy<Value = (Vec<f64>, Vec<Vec<f64>>)> {
    (2..6_usize).prop_flat_map(|n| (vec(0.01..1.0_f64, n), vec(vec(-20.0..5.0_f64, n), 0..7)))
}

fn tables() -> impl Strategy<Value = Vec<Vec<f64>>> {
    (1..6_usize, 2..7_usize).prop_flat_map(|(rows, columns)| vec(vec(0.001..1.0_f64, columns), rows))
}

fn weighed_shares(prior: &[f64], pieces: &[Vec<f64>]) -> Vec<f64> {
    let mut question =
        Question::new(prior.iter().map(|p| ((), *p)).collect(), NONE_OF_THESE).expect("priors");
    for piece in pieces {
        question.add(Evidence::new((), piece.clone())).expect("possible");
    }
    let weighed = question.weigh();
    let mut shares: Vec<f64> = (0..prior.len()).map(|place| weighed.share(place)).collect();
    shares.push(weighed.share_of_none());
    shares
}

fn same(a: &[f64], b: &[f64]) -> bool {
    // Sums of a few logarithms of size 100: 1e-14 of them, exponentiated.
    a.len() == b.len() && a.iter().zip(b).all(|(a, b)| (a - b).abs() < 1e-11)
}

fn bits(joint: &[Vec<f64>]) -> f64 {
    information(joint).expect("shares").value()
}

proptest! {
    #[test]
    fn shares_sum_to_one_and_shown_ones_are_never_sure((prior, pieces) in cases()) {
        let shares = weighed_shares(&prior, &pieces);
        prop_assert!((shares.iter().sum::<f64>() - 1.0).abs() < 1e-12);
        for share in shares {
            let shown = Probability::of_share(share).value();
            prop_assert!(shown > 0.0 && shown < 1.0);
        }
    }

    #[test]
    fn the_order_of_evidence_does_not_matter((prior, pieces) in cases()) {
        let mut backwards = pieces.clone();
        backwards.reverse();
        prop_assert!(same(&weighed_shares(&prior, &pieces), &weighed_shares(&prior, &backwards)));
    }

    #[test]
    fn names_do_not_matter((prior, pieces) in cases(), by in 0..5_usize) {
        let turn = |values: &[f64]| {
            let mut turned = values.to_vec();
            turned.rotate_left(by % values.len());
            turned
        };
        let turned_pieces: Vec<Vec<f64>> = pieces.iter().map(|piece| turn(piece)).collect();
        let shares = weighed_shares(&prior, &pieces);
        let turned = weighed_shares(&turn(&prior), &turned_pieces);
        let mut expected = turn(&shares[..prior.len()]);
        expected.push(shares[prior.len()]);
        prop_assert!(same(&turned, &expected));
    }

    #[test]
    fn evidence_alike_under_all_says_nothing((prior, mut pieces) in cases(), log in -30.0..5.0_f64) {
        let before = weighed_shares(&prior, &pieces);
        pieces.push(vec![log; prior.len()]);
        prop_assert!(same(&before, &weighed_shares(&prior, &pieces)));
    }

    #[test]
    fn each_ratio_carries_the_odds_from_without_to_with((prior, pieces) in cases()) {
        let mut question = Question::new(prior.iter().map(|p| ((), *p)).collect(), NONE_OF_THESE).expect("priors");
        for piece in &pieces {
            question.add(Evidence::new((), piece.clone())).expect("possible");
        }
        let weighed = question.weigh();
        for place in 0..prior.len() {
            for said in weighed.speaks(place) {
                let mut fewer = pieces.clone();
                fewer.remove(said.evidence);
                let without = weighed_shares(&prior, &fewer)[place];
                let with = weighed.share(place);
                // Odds lose digits near 1; those cases are left to the others.
                if (1e-9..0.999_999).contains(&without) && (1e-9..0.999_999).contains(&with) {
                    let expected = libm::log(with / (1.0 - with)) - libm::log(without / (1.0 - without));
                    prop_assert!((said.log_ratio - expected).abs() < 1e-6);
                }
            }
        }
    }

    #[test]
    fn decided_means_that_no_prior_in_the_ranges_changes_the_leader(
        (prior, pieces) in cases(), width in 1.0..4.0_f64, seed in any::<u64>()
    ) {
        let sum: f64 = prior.iter().sum();
        let prior: Vec<f64> = prior.iter().map(|p| p / sum).collect();
        let mut question = Question::new(prior.iter().map(|p| ((), *p)).collect(), NO_OTHER).expect("priors");
        for piece in &pieces {
            question.add(Evidence::new((), piece.clone())).expect("possible");
        }
        let ranges: Vec<(f64, f64)> = prior.iter().map(|p| (p / width, p * width)).collect();
        let decision = question.decision(&ranges).expect("ranges");
        let mut random = ChaCha12Rng::seed_from_u64(seed);
        let mut uniform = || (random.next_u64() >> 11) as f64 / (1_u64 << 53) as f64;
        for _ in 0..20 {
            let other: Vec<f64> = ranges.iter().map(|(low, high)| low + uniform() * (high - low)).collect();
            let shares = weighed_shares(&other, &pieces);
            let best = (0..prior.len()).max_by(|a, b| shares[*a].total_cmp(&shares[*b])).expect("some");
            match &decision {
                Decision::Decided(leader) => prop_assert_eq!(best, *leader),
                Decision::NotDecided { leader, rivals, .. } => {
                    prop_assert!(best == *leader || rivals.contains(&best));
                }
            }
        }
    }

    #[test]
    fn information_is_between_nothing_and_what_is_open(joint in tables()) {
        let told = bits(&joint);
        let rows: Vec<f64> = joint.iter().map(|row| row.iter().sum()).collect();
        let open = entropy(&rows).expect("shares").value();
        prop_assert!(told >= 0.0 && told <= open + 1e-12);
    }

    #[test]
    fn a_look_that_cannot_tell_tells_nothing(rows in vec(0.01..1.0_f64, 1..6), columns in vec(0.01..1.0_f64, 1..6)) {
        let joint: Vec<Vec<f64>> =
            rows.iter().map(|row| columns.iter().map(|column| row * column).collect()).collect();
        prop_assert!(bits(&joint) < 1e-13);
    }

    #[test]
    fn merging_outcomes_never_tells_more(joint in tables()) {
        // The data-processing inequality (Cover and Thomas 1991, theorem 2.8.1).
        let merged: Vec<Vec<f64>> = joint
            .iter()
            .map(|row| {
                let mut row = row.clone();
                let last = row.pop().expect("two columns or more");
                *row.last_mut().expect("one more") += last;
                row
            })
            .collect();
        prop_assert!(bits(&merged) <= bits(&joint) + 1e-13);
    }

    #[test]
    fn information_is_the_same_both_ways_and_under_new_names(joint in tables(), by in 0..5_usize) {
        let turned: Vec<Vec<f64>> =
            (0..joint[0].len()).map(|column| joint.iter().map(|row| row[column]).collect()).collect();
        prop_assert!((bits(&turned) - bits(&joint)).abs() < 1e-13);
        let mut renamed = joint.clone();
        renamed.rotate_left(by % joint.len());
        prop_assert!((bits(&renamed) - bits(&joint)).abs() < 1e-13);
    }
}

#[test]
fn counted_noise_is_not_taken_for_news() {
    // 4000 draws that have nothing to do with each other, in an 8 by 10 table: the raw sum is about
    // 63/(2 · 4000 · ln 2) = 0.0114 bits (Miller 1955), with a spread of about 0.002; corrected, it is near nothing.
    let mut random = ChaCha12Rng::seed_from_u64(1955);
    let mut joint = vec![vec![0.0; 10]; 8];
    for _ in 0..4000 {
        let (row, column) = (random.next_u64() % 8, random.next_u64() % 10);
        joint[row as usize][column as usize] += 1.0;
    }
    let raw = bits(&joint);
    let corrected = information_of_counts(&joint, 4000.0).expect("counts").value();
    assert!((raw - 0.0114).abs() < 0.006, "{raw}");
    assert!(corrected < 0.006, "{corrected}");
}
