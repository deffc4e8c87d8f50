//! Against published figures, and each fault a person can cause.

use asfound_weigh::*;
use libm::log;

fn question(prior: &[f64], none: f64) -> Question<usize, &'static str> {
    Question::new(prior.iter().copied().enumerate().collect(), none).expect("good priors")
}

#[test]
fn three_boxes_two_coins_each() {
    // J. Bertrand, Calcul des probabilités (1889), first chapter: boxes with two gold, two silver, one of each; a gold
    // coin is drawn. The other is gold with probability 2/3. Exact, to the rounding of doubles.
    let mut boxes = question(&[1.0, 1.0, 1.0], NO_OTHER);
    boxes.add(Evidence::new("gold", vec![0.0, f64::NEG_INFINITY, log(0.5)])).expect("possible");
    let weighed = boxes.weigh();
    assert!((weighed.share(0) - 2.0 / 3.0).abs() < 1e-15);
    assert_eq!(weighed.share(1), 0.0);
    let shown: Vec<f64> = weighed.probabilities().map(|(_, p)| p.value()).collect();
    assert_eq!(shown[1], Probability::FLOOR); // the share may be nought; what is shown may not
}

#[test]
fn three_doors() {
    // S. Selvin, The American Statistician 29, 67 (1975): after the host opens an empty door, the other door has 2/3.
    let mut doors = question(&[1.0, 1.0, 1.0], NO_OTHER);
    doors.add(Evidence::new("opens the third", vec![log(0.5), 0.0, f64::NEG_INFINITY])).expect("possible");
    assert!((doors.weigh().share(1) - 2.0 / 3.0).abs() < 1e-15);
}

#[test]
fn a_mammogram_read_positive() {
    // D. M. Eddy in Kahneman, Slovic, Tversky, Judgment under Uncertainty (1982), 249: prevalence 1 %, sensitivity
    // 79.2 %, false positives 9.6 %: 0.077, printed with two digits.
    let mut question = question(&[0.01, 0.99], NO_OTHER);
    question.add(Evidence::new("positive", vec![log(0.792), log(0.096)])).expect("possible");
    assert!((question.weigh().share(0) - 0.077).abs() < 5e-4);
}

#[test]
fn entropy_of_a_die_a_coin_and_a_worked_source() {
    let bits = |shares: &[f64]| entropy(shares).expect("shares").value();
    assert!((bits(&[1.0; 6]) - libm::log2(6.0)).abs() < 1e-15);
    assert_eq!(bits(&[0.5, 0.5]), 1.0);
    assert_eq!(bits(&[1.0, 0.0]), 0.0);
    // C. E. Shannon (1948), section 11: a binary channel with one error in a hundred loses 0.081 bits each symbol.
    assert!((bits(&[0.99, 0.01]) - 0.081).abs() < 5e-4);
    // The same source's channel: 1000 symbols a second carry 919 bits a second.
    let joint = vec![vec![0.495, 0.005], vec![0.005, 0.495]];
    assert!((1000.0 * information(&joint).expect("shares").value() - 919.0).abs() < 0.5);
}

#[test]
fn a_worked_joint_table() {
    // T. M. Cover, J. A. Thomas, Elements of Information Theory (1991), example 2.2.1: I(X;Y) = 0.375 bit. All entries
    // are powers of two and the result is exact but for the logarithms' last bits.
    let joint = vec![
        vec![1.0 / 8.0, 1.0 / 16.0, 1.0 / 32.0, 1.0 / 32.0],
        vec![1.0 / 16.0, 1.0 / 8.0, 1.0 / 32.0, 1.0 / 32.0],
        vec![1.0 / 16.0; 4],
        vec![1.0 / 4.0, 0.0, 0.0, 0.0],
    ];
    assert!((information(&joint).expect("shares").value() - 0.375).abs() < 1e-14);
}

#[test]
fn a_long_shot_is_not_shown_as_certain() {
    let mut sure = question(&[1.0, 1.0], NONE_OF_THESE);
    for _ in 0..50 {
        sure.add(Evidence::new("again", vec![0.0, log(1e-3)])).expect("possible");
    }
    let weighed = sure.weigh();
    let shown: Vec<String> = weighed.probabilities().map(|(_, p)| p.to_string()).collect();
    assert_eq!(shown, ["over 99 %", "under 1 %"]);
    assert!(weighed.none_of_these().value() >= Probability::FLOOR);
}

#[test]
fn what_fits_nothing_is_seen_as_such() {
    let mut question = question(&[1.0, 1.0], NONE_OF_THESE);
    let odd = Evidence {
        about: "ten spreads away from both",
        log_likelihoods: vec![-50.0, -52.0],
        if_none_of_these: Some(-3.0),
    };
    question.add(odd).expect("possible");
    let weighed = question.weigh();
    assert_eq!(weighed.leader(), None);
    assert!(weighed.share_of_none() > 0.999);
}

#[test]
fn a_leader_that_hangs_on_the_prior_is_not_decided() {
    let mut question = question(&[0.8, 0.2], NO_OTHER);
    question.add(Evidence::new("tape newer", vec![log(0.2), log(0.6)])).expect("possible");
    // 0.16 against 0.12; with priors 0.7 and 0.3 it is 0.14 against 0.18.
    let wide = question.decision(&[(0.7, 0.9), (0.1, 0.3)]).expect("ranges");
    assert_eq!(wide, Decision::NotDecided { leader: 0, rivals: vec![1], none_of_these: false });
    let narrow = question.decision(&[(0.78, 0.9), (0.1, 0.22)]).expect("ranges");
    assert_eq!(narrow, Decision::Decided(0));
}

#[test]
fn looks_by_bits_per_minute() {
    let look = |what, bits, minutes| Look { what, tells: Bits(bits), minutes };
    let ranked = rank(vec![look("sweep", 0.9, 15.0), look("tap", 0.1, 1.0), look("photo", 0.5, 2.0)]);
    let order: Vec<&str> = ranked.expect("good looks").iter().map(|ranked| ranked.look.what).collect();
    assert_eq!(order, ["photo", "tap", "sweep"]);
    assert_eq!(rank(vec![look("nothing", 0.1, 0.0)]), Err(LookError::Minutes(0.0)));
    assert_eq!(rank(vec![look("nothing", f64::NAN, 1.0)]), Err(LookError::Share));
}

#[test]
fn faults_are_answered_with_what_is_wrong() {
    let build = |prior: Vec<(&'static str, f64)>, none| Question::<_, ()>::new(prior, none);
    assert_eq!(build(vec![], 0.01).unwrap_err(), WeighError::Nothing);
    assert_eq!(build(vec![("a", 0.0)], 0.01).unwrap_err(), WeighError::Prior(0, 0.0));
    assert_eq!(build(vec![("a", 1.0), ("b", -1.0)], 0.01).unwrap_err(), WeighError::Prior(1, -1.0));
    assert_eq!(build(vec![("a", 1.0)], 1.0).unwrap_err(), WeighError::NoneOfThese(1.0));
    let mut question = question(&[0.5, 0.5], NO_OTHER);
    assert_eq!(
        question.add(Evidence::new("x", vec![0.0])).unwrap_err(),
        WeighError::Shape { expected: 2, found: 1 }
    );
    assert!(matches!(
        question.add(Evidence::new("x", vec![0.0, f64::NAN])),
        Err(WeighError::Likelihood(1, _))
    ));
    question.add(Evidence::new("not the first", vec![f64::NEG_INFINITY, 0.0])).expect("possible");
    let before = question.clone();
    let against = Evidence::new("not the second", vec![0.0, f64::NEG_INFINITY]);
    assert_eq!(question.add(against).unwrap_err(), WeighError::Impossible);
    assert_eq!(question, before);
    assert_eq!(question.decision(&[(0.6, 0.7), (0.1, 0.9)]).unwrap_err(), WeighError::Range(0, 0.6, 0.7));
    assert_eq!(information(&[vec![1.0], vec![]]).unwrap_err(), LookError::Shape);
    assert_eq!(information(&[]).unwrap_err(), LookError::Shape);
    assert_eq!(information(&[vec![-1.0, 2.0]]).unwrap_err(), LookError::Share);
    assert_eq!(entropy(&[0.0]).unwrap_err(), LookError::Share);
    assert_eq!(Probability::new(1.5).unwrap_err(), NotAProbability(1.5));
    assert_eq!(
        NotAProbability(1.5).to_string(),
        "1.5 is not a probability; it must lie between 0 and 1, for instance 0.05"
    );
}
