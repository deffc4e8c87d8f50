//! Sales, values and bills that people brought, said as they would say them, and what the pages Plan and Viewing must
//! answer.
//!
//! Practitioners' cases, no source, retold; sums worked out by hand beside each.

mod bench;

use bench::{page_after, says};

fn plan(lines: &str) -> String {
    page_after(lines, "plan")
}

/// 2,000 all in. House A: 24 % and 20 % tax on it, h·1.288. House B: 18 % and the tax on everything, h·1.18·1.2.
/// With 4.95 % for bidding over the net, taxed too: h·(1.288 + 0.0594). With 600 of work first: 1,400 / 1.288.
#[test]
fn what_a_hundred_on_the_hammer_costs() {
    let budget = "lot budget 2000 GBP, to keep, the owner pays\nlot bid step 0.01 GBP\n";
    let house_a = "lot premium 24 %, tax 20 % on the premium\n";
    says(&plan(&format!("{budget}{house_a}")), &["Bid no more than 1552.79 GBP", "372.67 GBP", "74.53 GBP"]);
    says(
        &plan(&format!("{budget}lot premium 18 %, tax 20 % on everything")),
        &["Bid no more than 1412.42 GBP"],
    );
    says(
        &plan(&format!("{budget}{house_a}lot online 4.95 % plus 20 % tax")),
        &["Bid no more than 1484.34 GBP"],
    );
    says(&plan(&format!("{budget}{house_a}lot work 600 GBP")), &["1086.95 GBP"]);
    // What the tax is charged on is asked and never guessed.
    says(&plan(&format!("{budget}lot premium 24 %, tax 20 %")), &["what its tax is charged on"]);
}

/// As found at most 20 % of 25,000, refinished half to two thirds: 5,000, and 12,500 to 16,667.
#[test]
fn badly_refinished_and_properly_refinished() {
    let page = plan(
        "lot value original 25000 GBP by the restorer\nlot value as found up to 20 % of original by the restorer\n\
         lot value restored 50 % to 66.668 % of original by the restorer",
    );
    says(&page, &["up to 5000.00 GBP", "restored 12500.00 GBP to 16667.00 GBP", "7500.00 GBP"]);
}

/// 1 h 24 min by quarter hours is 1.5 h: 105 at 70 an hour.
#[test]
fn quarter_hours() {
    let page = plan(
        "work rate 70 GBP an hour\nwork billed by quarter hours\ntask press-neck\nhours 1h24 press-neck, done",
    );
    says(&page, &["1 h 24 min", "105.00 GBP"]);
}

#[test]
fn terms_that_cannot_be_say_which_and_what_would_be_right() {
    let keep = "lot budget 2000 GBP, to keep, the owner pays\n";
    for (terms, pieces) in [
        ("lot premium 120 %, tax 20 % on the premium", ["120 % cannot be", "for instance 25 %"]),
        (
            "lot premium 26 % to 10000 GBP then 20 % to 5000 GBP then 10 %, no tax",
            ["tier 2", "put the tiers in rising order"],
        ),
        ("lot premium 20 %, no tax, carriage 2400 GBP", ["is below what the lowest bid", "let the lot go"]),
        ("lot premium 20 %, no tax, carriage 80 EUR", ["80.00 EUR stands among sums in GBP", "turn it into"]),
    ] {
        says(&plan(&format!("{keep}{terms}")), &pieces);
    }
    let circle = plan("task a, 4 hours, after b\ntask b, 4 hours, after a");
    says(&circle, &["“a” waits for “b” waits for “a”", "take one of these dependencies out"]);
}

/// A cure of a year has both changes of the clocks inside it: its hours are kept, and the wall shows another time.
#[test]
fn a_clock_change_inside_a_cure_is_said() {
    let page = plan("work clocks GMT0BST,M3.5.0/1,M10.5.0\ntask lacquer, 2 hours, cures 8760 hours");
    says(
        &page,
        &["The clocks go back by 1 h while “lacquer” waits; its hours are kept", "go forward by 1 h"],
    );
}
