//! A viewing, pressed through with one thumb.

mod common;

use common::House;
use common::page::Page;

async fn a_guitar() -> (House, String) {
    let house = House::new();
    let fields = [("title", "A guitar at a house sale"), ("family", "guitar")];
    let number = house.post("/jobs", &fields).await.to().replace("/job/", "").replace("/piece", "");
    for line in ["money sound 2600 GBP", "money estimate low 900 GBP", "money estimate high 1600 GBP"] {
        house.say(&number, line);
    }
    (house, number)
}

/// The outcomes that can be pressed on a page.
fn presses(page: &Page) -> Vec<String> {
    let buttons = page.all("button").filter(|button| button.attribute("name") == Some("line"));
    buttons.filter_map(|button| button.attribute("value").map(str::to_owned)).collect()
}

#[tokio::test]
async fn one_press_answers_and_brings_the_next_check() {
    let (house, number) = a_guitar().await;
    let path = format!("/job/{number}/viewing");
    let first = Page::read(&house.get(&path).await.body);
    first.must_be_sound(&path);
    let outcomes = presses(&first);
    assert!(outcomes.len() >= 3 && outcomes[0].starts_with("piece: viewing, "), "{outcomes:?}");
    let said = [("line", outcomes[0].as_str()), ("page", "viewing")];
    let kept = house.post(&format!("/job/{number}/say"), &said).await;
    assert!(kept.to().starts_with(&format!("{path}?kept=")) && !kept.to().contains('#'), "{}", kept.to());
    let next = Page::read(&house.get(kept.to()).await.body);
    assert_ne!(presses(&next), outcomes);
    // Who goes back and presses another outcome is heard: the later counts.
    let said = [("line", outcomes[1].as_str()), ("page", "viewing")];
    house.post(&format!("/job/{number}/say"), &said).await;
    let after = house.get(&path).await;
    let seen = outcomes[1].rsplit(": ").next().unwrap();
    assert!(after.body.contains(&format!("<span>{seen}</span></td>")), "{seen}");
    let piece = house.get(&format!("/job/{number}/piece")).await;
    assert!(!piece.body.contains("viewing, "), "answers stand on their own page");
}

#[tokio::test]
async fn the_next_check_stands_while_sums_are_hidden() {
    let (house, number) = a_guitar().await;
    for page in ["viewing", "pocket-sheet"] {
        let path = format!("/job/{number}/{page}");
        let shown = house.get_with(&path, &[("cookie", "money=hidden")]).await;
        for sum in ["2600.00", "900.00", "1600.00", "takes off on average"] {
            assert!(!shown.body.contains(sum), "{path} tells {sum}");
        }
        let read = Page::read(&shown.body);
        read.must_be_sound(&path);
        assert!(page != "viewing" || presses(&read).len() >= 3);
    }
    let shown = house.get(&format!("/job/{number}/viewing")).await;
    assert!(shown.body.contains("takes off on average"));
}

#[tokio::test]
async fn the_pocket_sheet_lists_every_check_to_tick() {
    let (house, number) = a_guitar().await;
    let sheet = house.get(&format!("/job/{number}/pocket-sheet")).await;
    assert_eq!(sheet.status, 200);
    assert!(sheet.body.matches('☐').count() > 100);
    let none = house.open("Something in a case");
    let sheet = house.get(&format!("/job/{none}/pocket-sheet")).await;
    assert!(sheet.body.contains("was not said"));
}
