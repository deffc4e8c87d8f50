//! The critical path against published networks, and its printed chance against simulation.

use asfound_plan::{Activity, Hours, Network, PrecedenceFault, ThreePoint};
use proptest::prelude::*;

/// Rows of `name a m b forerunners…`.
fn network(rows: &str) -> Network {
    let activities = rows.lines().map(str::trim).filter(|row| !row.is_empty()).map(|row| {
        let words: Vec<&str> = row.split_whitespace().collect();
        let hours = |place: usize| Hours(words[place].parse().unwrap());
        Activity {
            name: words[0].into(),
            takes: ThreePoint::new(words[0], hours(1), hours(2), hours(3)).unwrap(),
            after: words[4..].iter().map(|&word| word.into()).collect(),
        }
    });
    Network::new(activities.collect()).unwrap()
}

fn chain(network: &Network) -> String {
    let path = network.critical_path();
    path.chain.iter().map(|&place| network.activities()[place].name.as_str()).collect()
}

fn slacks(network: &Network) -> Vec<(String, f64)> {
    let path = network.critical_path();
    let slack = |place: usize| (path.slack(place).0 * 100.0).round() / 100.0;
    let named = network.activities().iter().enumerate().map(|(place, one)| (one.name.clone(), slack(place)));
    named.filter(|&(_, slack)| slack != 0.0).collect()
}

fn expect(wanted: &[(&str, f64)]) -> Vec<(String, f64)> {
    wanted.iter().map(|&(name, slack)| (name.to_owned(), slack)).collect()
}

/// Means, variances, path and 17 as printed in lecture slides on project management (document host, number 396883604);
/// slacks and chances by an independent program. Exact in sixths, so 1e-9; chances to the six digits worked out.
#[test]
fn ten_activities_of_lecture_slides() {
    let net = network(
        "A 5 6 7\nB 1 3 5\nC 1 4 7\nD 1 2 3 A\nE 1 2 9 B\nF 1 5 9 C\nG 2 2 8 C\nH 4 4 10 E F\nI 2 5 8 D\nJ 2 2 8 H G",
    );
    let means: Vec<f64> = net.activities().iter().map(|one| one.takes.mean().0).collect();
    assert_eq!(means, [6.0, 3.0, 4.0, 2.0, 3.0, 5.0, 3.0, 5.0, 5.0, 3.0]);
    let variances: Vec<f64> =
        net.activities().iter().map(|one| (one.takes.printed_variance() * 100.0).round() / 100.0).collect();
    assert_eq!(variances, [0.11, 0.44, 1.0, 0.11, 1.78, 1.78, 1.0, 1.0, 1.0, 1.0]);
    let path = net.critical_path();
    assert_eq!(chain(&net), "CFHJ");
    assert!((path.takes.0 - 17.0).abs() < 1e-9);
    assert!((path.variance - 43.0 / 9.0).abs() < 1e-9);
    assert!((path.printed_chance(Hours(20.0)) - 0.915044).abs() < 1e-6);
    assert!((path.printed_chance(Hours(15.0)) - 0.180098).abs() < 1e-6);
    assert_eq!(
        slacks(&net),
        expect(&[("A", 4.0), ("B", 3.0), ("D", 4.0), ("E", 3.0), ("G", 7.0), ("I", 4.0)])
    );
}

/// Expected 24 and P(≤ 28) = 0.9633 in a management science text (online library page 3.287.1.117). The text reads its
/// chance off a normal table at z = 1.79, so half a thousandth.
#[test]
fn the_path_of_a_management_science_text() {
    let net = network("1 5 8 17\n3 3 5 7 1\n5 4 6 8 3\n7 3 4 5 5");
    let path = net.critical_path();
    assert!((path.takes.0 - 24.0).abs() < 1e-9);
    assert!((path.variance - 5.0).abs() < 1e-9);
    assert!((path.printed_chance(Hours(28.0)) - 0.9633).abs() < 5e-4);
    assert!((path.printed_chance(Hours(28.0)) - 0.963181).abs() < 1e-6);
}

/// Slack B 8, D and F 1.83 as printed in a worked question (question 717873 of a study site), the rest by an independent
/// program. Printed to two places, so compared to two.
#[test]
fn fourteen_activities_of_a_worked_question() {
    let net = network(
        "A 5 5 7\nB 1 2 5\nC 5 5 5 A\nD 4 8 13 A\nE 1 10 17 B C\nF 1 5 7 D\nG 2 6 9 D\nH 4 4 6 E F\nI 2 7 10 G H\n\
         J 2 4 7 I\nK 6 10 13 I\nL 2 6 6 J\nM 2 2 3 K\nN 7 7 12 L M",
    );
    let path = net.critical_path();
    assert_eq!(chain(&net), "ACEHIKMN");
    assert!((path.takes.0 - 305.0 / 6.0).abs() < 1e-9);
    assert!((path.variance - 403.0 / 36.0).abs() < 1e-9);
    assert!((path.printed_chance(Hours(55.0)) - 0.893496).abs() < 1e-6);
    let slack = [("B", 8.0), ("D", 1.83), ("F", 1.83), ("G", 5.0), ("J", 2.5), ("L", 2.5)];
    assert_eq!(slacks(&net), expect(&slack));
}

/// The contractor of F. S. Hillier and G. J. Lieberman, *Introduction to Operations Research*: 44 weeks, variance 9,
/// P(≤ 47) = 0.84.
#[test]
fn the_contractor_of_hillier_and_lieberman() {
    let net = network(
        "A 1 2 3\nB 2 3.5 8 A\nC 6 9 18 B\nD 4 5.5 10 C\nE 1 4.5 5 C\nF 4 4 10 E\nG 5 6.5 11 D\nH 5 8 17 E G\n\
         I 3 7.5 9 C\nJ 3 9 9 F I\nK 4 4 4 J\nL 1 5.5 7 J\nM 1 2 3 H\nN 5 5.5 9 K L",
    );
    let path = net.critical_path();
    assert_eq!(chain(&net), "ABCEFJLN");
    assert!((path.takes.0 - 44.0).abs() < 1e-9);
    assert!((path.variance - 9.0).abs() < 1e-9);
    assert!((path.printed_chance(Hours(47.0)) - 0.841345).abs() < 1e-6);
    let slack = [("D", 4.0), ("G", 4.0), ("H", 4.0), ("I", 2.0), ("K", 1.0), ("M", 4.0)];
    assert_eq!(slacks(&net), expect(&slack));
}

/// The larger of two independent N(10, 2²): mean 10 + 2/√π, P(≤ 12) = Φ(1)² = 0.707861, where one alone has 0.841345
/// (C. E. Clark, Operations Research 9, 145, 1961). Each chain here is twenty symmetric betas, whose sum is normal but
/// for a kurtosis of −0.03: that moves a chance by under 0.001. Four deviations of 40,000 draws are 0.0091.
#[test]
fn two_chains_alike_are_later_than_one() {
    let mut rows = String::new();
    // Ten hours in twenty parts; a beta(3, 3) of width w has variance w²/28, and twenty of them are to make 4.
    let half = (4.0_f64 / 20.0 * 28.0).sqrt() / 2.0;
    let middle = half + 0.01;
    for side in ["a", "b"] {
        for place in 0..20 {
            let after = if place == 0 { String::new() } else { format!("{side}{}", place - 1) };
            rows += &format!("{side}{place} {} {middle} {} {after}\n", middle - half, middle + half);
        }
    }
    let net = network(&rows);
    let from_mean = |above: f64| 20.0 * middle + above;
    let drawn = net.simulated(40_000, 1).unwrap();
    assert!((drawn.share_up_to(from_mean(2.0)) - 0.707861).abs() < 0.0101);
    assert!((drawn.mean - from_mean(2.0 / std::f64::consts::PI.sqrt())).abs() < 4.0 * 2.0 / 200.0);
    // The printed chance is that of one chain, with PERT's own smaller-than-beta variance of width²/36.
    assert!(net.critical_path().printed_chance(Hours(from_mean(2.0))) > 0.84);
}

/// The contractor again: 2,000,000 draws of an independent program (a general numerical library's beta) give a mean of
/// 44.3256, P(≤ 44) = 0.47370 and P(≤ 47) = 0.81665, where 0.5 and 0.8413 are printed. Four deviations of 40,000 draws
/// are 0.0100 and 0.0078; of the mean, 0.06.
#[test]
fn the_printed_chance_is_hopeful_where_chains_are_near() {
    let net = network(
        "A 1 2 3\nB 2 3.5 8 A\nC 6 9 18 B\nD 4 5.5 10 C\nE 1 4.5 5 C\nF 4 4 10 E\nG 5 6.5 11 D\nH 5 8 17 E G\n\
         I 3 7.5 9 C\nJ 3 9 9 F I\nK 4 4 4 J\nL 1 5.5 7 J\nM 1 2 3 H\nN 5 5.5 9 K L",
    );
    let drawn = net.simulated(40_000, 2).unwrap();
    assert!((drawn.share_up_to(44.0) - 0.47370).abs() < 0.0100);
    assert!((drawn.share_up_to(47.0) - 0.81665).abs() < 0.0078);
    assert!((drawn.mean - 44.3256).abs() < 0.06);
    assert!(net.critical_path().printed_chance(Hours(47.0)) > drawn.share_up_to(47.0));
}

/// Quantiles of the PERT beta by an independent program (a general statistics library), 50, 80 and 95 %. A share of
/// 40,000 draws at a quantile is within four of its own deviations.
#[test]
fn draws_have_the_quantiles_of_the_beta() {
    for (row, quantiles) in [
        ("x 2 4 12", [4.766723, 6.502586, 8.212767]),
        ("x 1 4 7", [4.0, 5.040412, 5.864468]),
        ("x 5 8 17", [8.765722, 10.882308, 12.888900]),
        ("x 1 5.5 7", [5.117139, 5.988347, 6.541358]),
    ] {
        let drawn = network(row).simulated(40_000, 3).unwrap();
        for (quantile, share) in quantiles.into_iter().zip([0.5, 0.8, 0.95]) {
            let tolerance = 4.0 * (share * (1.0 - share) / 40_000.0_f64).sqrt();
            assert!((drawn.share_up_to(quantile) - share).abs() < tolerance, "{row} at {quantile}");
        }
    }
}

#[test]
fn a_circle_is_named_in_order() {
    let takes = ThreePoint::NONE;
    let one = |name: &str, after: &[&str]| Activity {
        name: name.into(),
        takes,
        after: after.iter().map(|&word| word.into()).collect(),
    };
    let circle = vec![
        one("strip", &[]),
        one("spray", &["fit"]),
        one("sand", &["spray", "strip"]),
        one("fit", &["sand"]),
    ];
    let fault = Network::new(circle).unwrap_err();
    assert_eq!(fault, PrecedenceFault::Circle(vec!["spray".into(), "fit".into(), "sand".into()]));
    assert_eq!(
        fault.to_string(),
        "these wait for one another in a circle: “spray” waits for “fit” waits for “sand” waits for “spray”; take one of \
         these dependencies out"
    );
    let itself = Network::new(vec![one("sand", &["sand"])]).unwrap_err();
    assert_eq!(itself, PrecedenceFault::Circle(vec!["sand".into()]));
    assert!(matches!(Network::new(vec![one("a", &["b"])]), Err(PrecedenceFault::Unknown { .. })));
    assert!(matches!(Network::new(vec![one("a", &[]), one("a", &[])]), Err(PrecedenceFault::Twice(_))));
}

#[test]
fn three_figures_that_do_not_rise_are_refused_by_name() {
    let fault = ThreePoint::new("spray", Hours(4.0), Hours(3.0), Hours(2.0)).unwrap_err();
    assert_eq!(
        fault.to_string(),
        "the times of “spray” were read as 4 h, 3 h, 2 h, which do not rise; give the time if all goes well, the most \
         likely and the time if much goes wrong, in that order"
    );
    assert!(ThreePoint::new("spray", Hours(-1.0), Hours(3.0), Hours(4.0)).is_err());
    assert!(ThreePoint::new("spray", Hours(1.0), Hours(f64::NAN), Hours(4.0)).is_err());
}

proptest! {
    /// No slack is negative, those of the chain have none, and the chain's means add up to the whole.
    #[test]
    fn the_chain_has_no_slack(times in proptest::collection::vec((0_u8..20, 0_u8..20, 0_u8..20, any::<u16>()), 1..14)) {
        let activities = times.iter().enumerate().map(|(place, &(a, m, b, waits))| {
            let (a, m, b) = (f64::from(a), f64::from(m), f64::from(b));
            Activity {
                name: place.to_string(),
                takes: ThreePoint::new("it", Hours(a), Hours(a + m), Hours(a + m + b)).unwrap(),
                after: (0..place).filter(|earlier| waits >> earlier & 1 == 1).map(|earlier| earlier.to_string()).collect(),
            }
        });
        let net = Network::new(activities.collect()).unwrap();
        let path = net.critical_path();
        let sum: f64 = path.chain.iter().map(|&place| net.activities()[place].takes.mean().0).sum();
        prop_assert!((sum - path.takes.0).abs() < 1e-9);
        for place in 0..times.len() {
            prop_assert!(path.slack(place).0 > -1e-9);
        }
        for &place in &path.chain {
            prop_assert!(path.slack(place).0.abs() < 1e-9);
        }
    }
}
