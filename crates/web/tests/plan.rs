//! The page Plan: hours in two touches, and sums that one touch hides.

mod common;

use common::House;
use common::page::Page;

const LINES: [&str; 5] = [
    "work rate 4321 GBP an hour",
    "lot budget 98765 GBP, to keep, the owner pays, premium 25 %, tax 20 % on the premium",
    "task level frets, playable, materials 6543 GBP",
    "task lacquer, 2 hours, cures 72 hours, restore",
    "agreed restore, up to 87654 GBP, by telephone",
];

fn planned() -> (House, String) {
    let (house, number) = House::lived_in();
    for line in LINES {
        house.say(&number, line);
    }
    (house, number)
}

#[tokio::test]
async fn hours_are_written_down_in_two_touches() {
    let (house, number) = planned();
    let path = format!("/job/{number}/plan");
    let page = Page::read(&house.get(&path).await.body);
    page.must_be_sound(&path);
    let presses: Vec<String> = page
        .all("button")
        .filter(|button| button.attribute("name") == Some("line"))
        .filter_map(|button| button.attribute("value").map(str::to_owned))
        .collect();
    assert!(presses.contains(&"hours 30 min lacquer".to_owned()), "{presses:?}");
    // The first touch shows what would be kept.
    let read = house.get(&format!("{path}?line=hours+15+min+lacquer%2C+done")).await;
    assert!(read.body.contains("15 min at lacquer, done"));
    let kept = house
        .post(&format!("/job/{number}/say"), &[("line", "hours 15 min lacquer, done"), ("page", "plan")])
        .await;
    assert!(kept.to().starts_with(&path), "{}", kept.to());
    assert!(house.get("/").await.body.contains("Cures: lacquer until"), "the start page tells what cures");
    let left = house.get(&path).await;
    assert!(!left.body.contains("hours 30 min lacquer"), "its hands are done");
}

#[tokio::test]
async fn sums_of_a_plan_are_hidden_by_one_touch() {
    let (house, number) = planned();
    for page in ["plan", "proposal", "history", "piece"] {
        let path = format!("/job/{number}/{page}");
        let hidden = house.get_with(&path, &[("cookie", "money=hidden")]).await;
        assert_eq!(hidden.status, 200, "{path}");
        for sum in ["4321", "98765", "6543", "87654", "GBP</"] {
            assert!(!hidden.body.contains(sum), "{path} tells {sum}");
        }
        Page::read(&hidden.body).must_be_sound(&path);
    }
    let shown = house.get(&format!("/job/{number}/plan")).await;
    assert!(shown.body.contains("Bid no more than") || shown.body.contains("No bid fits"));
    assert!(house.get(&format!("/job/{number}/proposal")).await.body.contains("not a quotation"));
}
