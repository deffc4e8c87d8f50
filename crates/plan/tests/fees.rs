//! Bills and ceilings against worked figures. Every expected fraction was worked out apart from this program, in exact
//! fractions, from the formulas on the page of `fees`; equality is exact.

mod common;

use asfound_plan::fees::{
    Extra, FeeFault, Fees, Gap, Import, Item, Online, Premium, SellingTerms, Steps, Tax, Terms, Tier,
};
use asfound_plan::money::{Exact, Money, Rate, Rounding};
use common::{pounds, rate};

fn even(step: &str) -> Steps {
    Steps::even(pounds(step)).expect("a step")
}

fn tiers(rows: &[(Option<&str>, &str)]) -> Vec<Tier> {
    rows.iter().map(|(end, percent)| Tier { up_to: end.map(pounds), rate: rate(percent) }).collect()
}

fn terms(premium: Premium, tax: Tax) -> Terms {
    let mut terms = Terms::new(common::pound(), premium);
    terms.tax = Some(tax);
    terms
}

fn extra(what: &str, amount: &str, tax: &str, before_border: bool) -> Extra {
    Extra { what: what.to_owned(), amount: pounds(amount), tax: rate(tax), before_border }
}

/// A premium of 25 % with 20 % tax on it.
fn plain() -> Terms {
    terms(Premium::Flat(rate("25")), Tax::OnPremium(rate("20")))
}

/// Three tiers, tax on the premium, carriage.
fn tiered() -> Terms {
    let rows = [(Some("10000"), "26"), (Some("50000"), "20"), (None, "14")];
    let mut terms = terms(Premium::Tiered(tiers(&rows)), Tax::OnPremium(rate("20")));
    terms.extras.push(extra("carriage", "180", "0", false));
    terms
}

/// From abroad: premium untaxed, freight, duty of 3.7 %, tax at the border, an agent whose work is taxed at 20 %.
fn from_abroad(import_tax: &str) -> Terms {
    let mut terms = terms(Premium::Flat(rate("25")), Tax::None);
    terms.extras.push(extra("freight", "240", "0", true));
    terms.extras.push(extra("agent", "60", "20", false));
    terms.import = Some(Import { duty: rate("3.7"), tax: rate(import_tax) });
    terms
}

fn fees(terms: &Terms) -> Fees {
    terms.checked().expect("sound terms")
}

fn total(terms: &Terms, hammer: &str) -> Money {
    fees(terms).bill(pounds(hammer)).expect("a bill").total
}

/// A fraction of whole pounds.
fn fraction(part: i64, of: i64) -> Exact {
    Exact::parts(part * 100, of, common::pound()).expect("not of nothing")
}

fn assert_ceiling(terms: &Terms, limit: &str, exact: (i64, i64), step: &str, bid: &str) {
    let ceiling = fees(terms).ceiling(pounds(limit), &even(step)).expect("a ceiling");
    assert_eq!(ceiling.exact, fraction(exact.0, exact.1));
    assert_eq!(ceiling.bid, pounds(bid));
    assert!(ceiling.bill.total.minor() <= pounds(limit).minor());
    assert!(ceiling.next_bill.total.minor() > pounds(limit).minor());
    assert_eq!(ceiling.gaps, []);
}

#[test]
fn flat_premium_with_tax_on_it() {
    assert_ceiling(&plain(), "5000", (50_000, 13), "100", "3800");
    assert_eq!(total(&plain(), "3800"), pounds("4940"));
}

#[test]
fn online_surcharge_with_tax_on_it() {
    let mut terms = plain();
    terms.online = Some(Online { rate: rate("3"), tax: rate("20") });
    assert_ceiling(&terms, "5000", (625_000, 167), "100", "3700");
    assert_eq!(total(&terms, "3700"), pounds("4943.20"));
    assert_eq!(total(&terms, "3800"), pounds("5076.80"));
}

#[test]
fn tiers_with_tax_and_carriage() {
    for (limit, part, of, bid) in [
        ("12000", 369_375, 41, "9009.14"),
        ("20000", 477_500, 31, "15403.22"),
        ("80000", 4_718_750, 73, "64640.41"),
    ] {
        let ceiling = fees(&tiered()).ceiling(pounds(limit), &even("0.01")).expect("a ceiling");
        assert_eq!(ceiling.exact, fraction(part, of));
        assert_eq!(ceiling.bid, pounds(bid));
    }
    for (hammer, cost) in [
        ("9000", "11988.00"),
        ("10000", "13300.00"),
        ("10001", "13301.24"),
        ("25000", "31900.00"),
        ("60000", "74580.00"),
    ] {
        assert_eq!(total(&tiered(), hammer), pounds(cost), "{hammer}");
    }
    let bill = fees(&tiered()).bill(pounds("60000")).expect("a bill");
    let premium = bill.lines.iter().find(|line| line.item == Item::Premium).expect("a premium");
    let worked: Vec<(String, Exact)> =
        premium.working.iter().map(|part| (part.rate.to_string(), part.of.clone())).collect();
    let of = |sum| Exact::from(pounds(sum));
    let expected = [("26\u{202F}%", "10000"), ("20\u{202F}%", "40000"), ("14\u{202F}%", "10000")];
    assert_eq!(worked, expected.map(|(rate, sum)| (rate.to_owned(), of(sum))));
}

#[test]
fn sales_tax_on_hammer_and_premium() {
    let rows = [(Some("1000"), "25"), (None, "20")];
    let mut terms = terms(Premium::Tiered(tiers(&rows)), Tax::OnAll(rate("8.875")));
    terms.extras.push(extra("carriage", "95", "0", false));
    assert_ceiling(&terms, "1300", (771_200, 871), "1", "885");
    assert_ceiling(&terms, "1500", (900_375, 871), "1", "1033");
    assert_ceiling(&terms, "4000", (7_701_125, 2613), "1", "2947");
}

#[test]
fn brought_in_from_abroad() {
    assert_ceiling(&from_abroad("20"), "6000", (3_752_896, 1037), "50", "3600");
    let bill = fees(&from_abroad("20")).bill(pounds("3600")).expect("a bill");
    assert_eq!(bill.exact, fraction(5_970_456, 1000));
    assert_eq!(bill.total, pounds("5970.46"));
    let lower = fees(&from_abroad("5")).ceiling(pounds("6000"), &even("0.01")).expect("a ceiling");
    assert_eq!(lower.exact.round(Rounding::Floor), Ok(pounds("4163.42")));
    // At 4163.42 three lines round up and the bill prints 6000.01, so the bid stays a penny lower.
    assert_eq!(total(&from_abroad("5"), "4163.42"), pounds("6000.01"));
    assert_eq!(lower.bid, pounds("4163.41"));
}

/// By hand: the value at the border is 1000 + 250 + 30 = 1280, duty 10 % of it 128, import tax 20 % of 1408.
#[test]
fn the_surcharge_counts_to_the_value_at_the_border() {
    let mut terms = terms(Premium::Flat(rate("25")), Tax::None);
    terms.online = Some(Online { rate: rate("3"), tax: Rate::nothing() });
    terms.import = Some(Import { duty: rate("10"), tax: rate("20") });
    let bill = fees(&terms).bill(pounds("1000")).expect("a bill");
    let lines: Vec<(Item, Money)> = bill.lines.into_iter().map(|line| (line.item, line.printed)).collect();
    let expected = [
        (Item::Hammer, "1000"),
        (Item::Premium, "250"),
        (Item::Online, "30"),
        (Item::Duty, "128"),
        (Item::ImportTax, "281.60"),
    ];
    assert_eq!(lines, expected.map(|(item, sum)| (item, pounds(sum))));
}

/// 30 % on all of the price up to 1000, 20 % above: some prices under the ceiling cost more than the limit.
#[test]
fn a_rate_on_all_of_the_price_leaves_a_gap() {
    let rows = [(Some("1000"), "30"), (None, "20")];
    let terms = terms(Premium::WholeBand(tiers(&rows)), Tax::None);
    let ceiling = fees(&terms).ceiling(pounds("1250"), &even("1")).expect("a ceiling");
    assert_eq!(ceiling.bid, pounds("1041"));
    assert_eq!(ceiling.exact, fraction(12_500, 12));
    let gap = Gap { safe_to: pounds("961"), first: pounds("962"), last: pounds("1000") };
    assert_eq!(ceiling.gaps, [gap]);
    for (hammer, cost) in [
        ("961", "1249.30"),
        ("962", "1250.60"),
        ("1001", "1201.20"),
        ("1041", "1249.20"),
        ("1042", "1250.40"),
    ] {
        assert_eq!(total(&terms, hammer), pounds(cost));
    }
    // A limit that the upper band does not reach is kept in the lower one.
    let lower = fees(&terms).ceiling(pounds("1200"), &even("1")).expect("a ceiling");
    assert_eq!((lower.bid, lower.gaps), (pounds("923"), Vec::new()));
}

/// Two ends of tiers below the ceiling: gaps with a bid between them stay two, others are one.
#[test]
fn gaps_are_told_apart() {
    let gaps = |middle: &str| {
        let rows = [(Some("1000"), "30"), (Some("1100"), middle), (None, "10")];
        let terms = terms(Premium::WholeBand(tiers(&rows)), Tax::None);
        let ceiling = fees(&terms).ceiling(pounds("1250"), &even("1")).expect("a ceiling");
        assert_eq!(ceiling.bid, pounds("1136"));
        ceiling.gaps
    };
    let gap =
        |safe_to, first, last| Gap { safe_to: pounds(safe_to), first: pounds(first), last: pounds(last) };
    assert_eq!(gaps("25"), [gap("961", "962", "1100")]);
    assert_eq!(gaps("20"), [gap("961", "962", "1000"), gap("1041", "1042", "1100")]);
}

/// Three houses and one hammer price; limits of 2000 all in, with and without 600 of work to come.
#[test]
fn what_a_hundred_on_the_hammer_costs() {
    let added = terms(Premium::Flat(rate("24")), Tax::OnPremium(rate("20")));
    let on_all = terms(Premium::Flat(rate("18")), Tax::OnAll(rate("20")));
    let inside = terms(Premium::Flat(rate("18")), Tax::InPremium(rate("20")));
    assert_eq!(total(&added, "100"), pounds("128.80"));
    assert_eq!(total(&on_all, "100"), pounds("141.60"));
    let bill = fees(&inside).bill(pounds("100")).expect("a bill");
    assert_eq!((bill.total, bill.tax_in_premium), (pounds("118.00"), Some(pounds("3.00"))));

    let bid =
        |terms: &Terms, limit| fees(terms).ceiling(pounds(limit), &even("0.01")).expect("a ceiling").bid;
    assert_eq!(bid(&added, "2000"), pounds("1552.79"));
    assert_eq!(bid(&on_all, "2000"), pounds("1412.42"));
    let mut afar = added.clone();
    afar.online = Some(Online { rate: rate("4.95"), tax: rate("20") });
    assert_eq!(bid(&afar, "2000"), pounds("1484.34"));
    assert_eq!(bid(&added, "1400"), pounds("1086.95"));
}

#[test]
fn where_the_tax_lies_is_asked_or_answered_for_each() {
    let mut unsaid = plain();
    unsaid.tax = None;
    assert_eq!(unsaid.checked(), Err(FeeFault::TaxBasis));
    let each = unsaid.by_tax_basis(&rate("20"), pounds("2000"), &even("1")).expect("three ceilings");
    let bids: Vec<i64> = each.iter().map(|(_, ceiling)| ceiling.bid.minor() / 100).collect();
    assert_eq!(bids, [1538, 1333, 1600]); // 2000 over 1.3, 1.5 and 1.25
}

/// The tiers of the United Kingdom's resale right from 1 April 2024, as published in pounds with their sums (Design and
/// Artists Copyright Society): 4, 3, 1, 0.5 and 0.25 %, and no more than 12 500. They serve as published tiers only.
#[test]
fn published_tiers() {
    let rows = [
        (Some("50000"), "4"),
        (Some("200000"), "3"),
        (Some("350000"), "1"),
        (Some("500000"), "0.5"),
        (Some("2000000"), "0.25"),
        (None, "0"),
    ];
    let terms = terms(Premium::Tiered(tiers(&rows)), Tax::None);
    for (price, right) in [("210000", "6600"), ("500000", "8750"), ("2000000", "12500"), ("3000000", "12500")]
    {
        assert_eq!(total(&terms, price), pounds(price).plus(pounds(right)).expect("small"));
    }
    assert_ceiling(&terms, "216600", (210_000, 1), "10000", "210000");
}

#[test]
fn what_a_seller_is_left_with() {
    let terms = SellingTerms {
        currency: common::pound(),
        commission: rate("15"),
        tax: rate("20"),
        extras: Vec::new(),
        rounding: Rounding::HalfAwayFromZero,
    };
    let selling = terms.checked().expect("sound terms");
    let proceeds = selling.proceeds(pounds("3000")).expect("proceeds");
    assert_eq!(proceeds.net, pounds("2460"));
    assert_eq!(selling.price_for(pounds("2460")), Ok(Some(Exact::from(pounds("3000")))));
    // A photograph in the catalogue at 50, taxed, costs 60 more, and the price that makes up for it is higher.
    let shown = SellingTerms { extras: vec![extra("photograph", "50", "20", false)], ..terms.clone() };
    let shown = shown.checked().expect("sound terms");
    assert_eq!(shown.proceeds(pounds("3000")).expect("proceeds").net, pounds("2400"));
    assert_eq!(shown.price_for(pounds("2400")), Ok(Some(Exact::from(pounds("3000")))));
    let all = SellingTerms { commission: rate("100"), ..terms.clone() };
    assert_eq!(all.checked().expect("hard terms").price_for(pounds("1")), Ok(None));
    let wrong = SellingTerms { commission: rate("115"), ..terms };
    assert!(
        wrong.checked().expect_err("too much").to_string().starts_with("commission: 115\u{202F}% cannot be")
    );
}

#[test]
fn bids_rise_by_larger_steps() {
    let rows = [("0", "10"), ("500", "50"), ("2000", "200")].map(|(from, step)| (pounds(from), pounds(step)));
    let steps = Steps::rising(&rows).expect("rising");
    let free = fees(&terms(Premium::Flat(Rate::nothing()), Tax::None));
    for (limit, bid, next) in
        [("499", "490", "500"), ("549", "500", "550"), ("1999.99", "1950", "2000"), ("2399", "2200", "2400")]
    {
        let ceiling = free.ceiling(pounds(limit), &steps).expect("a ceiling");
        assert_eq!((ceiling.bid, ceiling.next_bid), (pounds(bid), pounds(next)), "{limit}");
    }
    assert!(matches!(Steps::even(pounds("0")), Err(FeeFault::Step { .. })));
    assert!(matches!(Steps::rising(&[(pounds("5"), pounds("1"))]), Err(FeeFault::Step { .. })));
    assert_eq!(Steps::rising(&[]), Err(FeeFault::NoStep));
}

fn sentence(terms: &Terms) -> String {
    terms.checked().expect_err("unsound terms").to_string()
}

#[test]
fn each_fault_names_its_place_and_a_remedy() {
    let mut wrong = plain();
    wrong.premium = Premium::Flat(rate("120"));
    assert_eq!(
        sentence(&wrong),
        "premium: 120\u{202F}% cannot be; a rate lies between 0 % and 100 %, for instance 25 %"
    );
    wrong.premium = Premium::Tiered(tiers(&[(Some("5000"), "25"), (Some("1000"), "20"), (None, "12")]));
    assert_eq!(
        sentence(&wrong),
        "premium, tier 2: it ends at 1000.00 GBP, which is not above the end of the tier before it, 5000.00 GBP; put \
         the tiers in rising order"
    );
    wrong.premium = Premium::Tiered(tiers(&[(Some("1000"), "25"), (Some("1000"), "20"), (None, "12")]));
    assert!(matches!(wrong.checked(), Err(FeeFault::TierOrder { .. })));
    wrong.premium = Premium::WholeBand(tiers(&[(None, "25"), (None, "20")]));
    assert!(
        sentence(&wrong).starts_with("premium, tier 1: every tier but the last needs the price it ends at")
    );
    wrong.premium = Premium::Tiered(tiers(&[(Some("5000"), "25")]));
    assert!(matches!(wrong.checked(), Err(FeeFault::TierEnd { .. })));
    wrong.premium = Premium::Tiered(Vec::new());
    assert!(matches!(wrong.checked(), Err(FeeFault::TierEnd { .. })));

    let mut wrong = tiered();
    wrong.extras[0].amount = Money::read("180", common::euro()).expect("a sum");
    assert_eq!(
        sentence(&wrong),
        "carriage: 180.00 EUR stands among sums in GBP; turn it into GBP first, at a rate with its day and source"
    );
    wrong.extras[0].amount = pounds("-180");
    assert!(sentence(&wrong).starts_with("carriage: -180.00 GBP is below nothing"));

    let mut wrong = from_abroad("20");
    wrong.import = Some(Import { duty: rate("3.7"), tax: rate("-20") });
    assert!(sentence(&wrong).starts_with("import tax: -20\u{202F}% cannot be"));
}

#[test]
fn a_limit_below_the_fees_says_what_the_lowest_bid_costs() {
    let refused = fees(&from_abroad("20")).ceiling(pounds("300"), &even("50"));
    // (50 · 1.25 + 240) · 1.037 · 1.2 + 72
    assert_eq!(
        refused.expect_err("too low").to_string(),
        "limit: 300.00 GBP is below what the lowest bid of 50.00 GBP comes to with its fees, 448.43 GBP; raise the \
         limit or let the lot go"
    );
    let euros = Money::read("300", common::euro()).expect("a sum");
    assert!(matches!(fees(&plain()).ceiling(euros, &even("50")), Err(FeeFault::Currency { .. })));
    assert!(matches!(
        fees(&plain()).ceiling(pounds("300"), &Steps::even(euros).expect("steps")),
        Err(FeeFault::Currency { .. })
    ));
    assert!(matches!(fees(&plain()).ceiling(pounds("-1"), &even("50")), Err(FeeFault::Below { .. })));
    assert!(matches!(fees(&plain()).bill(euros), Err(FeeFault::Currency { .. })));
}
