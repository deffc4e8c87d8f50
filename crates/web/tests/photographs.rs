//! Lugs are marked on a photograph, pressed there, and joined; a line of the trace is made from fields. All without the
//! script.

mod common;

use common::House;
use common::page::Page;

/// The lived-in house with its one photograph, 60 to 40: shown 320 by 213 on a phone, 720 by 480 on a desk.
fn photographed() -> (House, String, String) {
    let (house, number) = House::lived_in();
    let seq = house.workshop.job(&number).unwrap().photographs[0].seq;
    let here = format!("/job/{number}/photograph/{seq}");
    (house, number, here)
}

#[tokio::test]
async fn a_lug_is_marked_where_the_picture_is_pressed() {
    let (house, number, here) = photographed();
    let page = house.get(&format!("{here}?doing=marking")).await;
    let read = Page::read(&page.body);
    read.must_be_sound("marking");
    assert_eq!(read.field("of"), "neck.hot", "the first lug that is marked nowhere");
    let draft = read.field("draft");
    let fields = [
        ("of", "neck.hot"),
        ("narrow.x", "80"),
        ("narrow.y", "106"),
        ("seen_from", "back"),
        ("draft", draft.as_str()),
    ];
    let first = house.post(&format!("{here}/mark"), &fields).await;
    assert!(
        first.to().starts_with(&format!("{here}?doing=marking&zoom=1&from=neck.hot&kept=")),
        "{}",
        first.to()
    );
    assert_eq!(house.post(&format!("{here}/mark"), &fields).await.to(), first.to(), "sent twice, kept once");
    let job = house.workshop.job(&number).unwrap();
    let [mark] = job.marks.as_slice() else { panic!("{:?}", job.marks) };
    let body = &mark.body;
    assert_eq!(
        (body.of.as_str(), body.x, body.y, body.seen_from.as_deref()),
        ("neck.hot", 2500, 4977, Some("back"))
    );

    let after = Page::read(&house.get(first.to().split('#').next().unwrap()).await.body);
    after.must_be_sound("marked");
    assert!(after.ids().contains("here"), "the page goes to the mark");
    assert_eq!(after.field("of"), "neck.ground", "on to the next lug");
    // Gone back to the page before and pressed elsewhere: another mark, and the latest stands.
    let other =
        [("of", "neck.hot"), ("wide.x", "360"), ("wide.y", "240"), ("zoom", "1"), ("draft", draft.as_str())];
    house.post(&format!("{here}/mark"), &other).await.to();
    let marks = &house.workshop.job(&number).unwrap().marks;
    assert_eq!((marks.len(), marks[1].body.x, marks[1].body.y), (2, 5000, 5000));
    // Brought near, the same place has other pixels.
    let near = [("of", "volume"), ("wide.x", "720"), ("wide.y", "1920"), ("zoom", "4"), ("draft", "near")];
    house.post(&format!("{here}/mark"), &near).await.to();
    let body = house.workshop.job(&number).unwrap().marks[2].body.clone();
    assert_eq!((body.x, body.y), (2500, 10_000));
}

#[tokio::test]
async fn a_mark_is_typed_in_per_cent_and_what_is_wrong_is_said() {
    let (house, number, here) = photographed();
    let to = format!("{here}/mark");
    house.post(&to, &[("of", "volume.2"), ("across", "41,5"), ("down", "27"), ("draft", "a")]).await.to();
    let body = house.workshop.job(&number).unwrap().marks[0].body.clone();
    assert_eq!((body.x, body.y), (4150, 2700));
    let heads = house.heads();
    // A key on the picture sends its corner, which is no press.
    let key = [("of", "volume.1"), ("narrow.x", "0"), ("narrow.y", "0"), ("draft", "b")];
    assert!(house.post(&to, &key).await.trouble(422).contains("Press on the picture"));
    assert!(
        house
            .post(&to, &[("of", " "), ("narrow.x", "4"), ("narrow.y", "4")])
            .await
            .trouble(422)
            .contains("which lug")
    );
    let far = [("of", "volume.1"), ("across", "141"), ("down", "27"), ("draft", "c")];
    assert!(house.post(&to, &far).await.trouble(422).contains("“141” is no place on the picture"));
    house.post(&to, &[("across", "1")]).await.trouble(422);
    house.post(&format!("/job/{number}/photograph/1/mark"), &key).await.trouble(404);
    assert_eq!(house.heads(), heads, "nothing was kept of these");
}

#[tokio::test]
async fn two_presses_make_a_join() {
    let (house, number, here) = photographed();
    house.say(&number, "mark neck.hot on photo 1 at 10 % 50 %");
    house.say(&number, "mark volume.2 on photo 1 at 60 % 50 %");
    let heads = house.heads();
    let first = house.get(&format!("{here}/press?from=&to=&zoom=1&narrow.x=35&narrow.y=100")).await;
    assert_eq!(first.to(), format!("{here}?doing=looking&zoom=1&from=neck.hot#here"));
    let page = house.get(&format!("{here}?doing=looking&zoom=1&from=neck.hot")).await;
    Page::read(&page.body).must_be_sound("chosen");
    assert!(page.body.contains("neck hot — volume 3"), "the joins of the lug stand beside it");
    assert!(page.body.contains("6k31 21C") || page.body.contains("6k31"), "and the readings of its part");
    assert!(page.body.contains("joined to volume.3 already"));
    let second = house.get(&format!("{here}/press?from=neck.hot&zoom=1&wide.x=440&wide.y=240")).await;
    assert_eq!(second.to(), format!("{here}?doing=looking&zoom=1&from=neck.hot&to=volume.2#here"));
    // The same once more lets go; a third begins the next join; a press far from all marks says so.
    let go = house.get(&format!("{here}/press?from=neck.hot&zoom=1&narrow.x=32&narrow.y=106")).await;
    assert_eq!(go.to(), format!("{here}?doing=looking&zoom=1#here"));
    let third = house.get(&format!("{here}/press?from=neck.hot&to=volume.2&narrow.x=32&narrow.y=106")).await;
    assert_eq!(third.to(), format!("{here}?doing=looking&zoom=1&from=neck.hot#here"));
    let missed = house.get(&format!("{here}/press?from=neck.hot&wide.x=700&wide.y=10")).await;
    assert!(missed.to().contains("from=neck.hot&missed=yes"), "{}", missed.to());
    assert!(house.get(missed.to()).await.body.contains("Nothing is marked there"));
    assert_eq!(house.heads(), heads, "looking keeps nothing");

    let seq = here.rsplit('/').next().unwrap();
    let said = format!(
        "{here}?tracing=join&page=wiring&photograph={seq}&zoom=2&from=neck.hot&to=volume.2&how=metered&said=0.3"
    );
    let page = Page::read(&house.get(&said).await.body);
    page.must_be_sound("understood");
    assert!(
        page.text_of("id", "heard").contains("neck hot — volume 2, metered, 0.3"),
        "{}",
        page.text_of("id", "heard")
    );
    let fields = [
        ("line", page.field("line")),
        ("page", "wiring".to_owned()),
        ("photograph", seq.to_owned()),
        ("zoom", "2".to_owned()),
        ("tracing", "join".to_owned()),
        ("draft", page.field("draft")),
    ];
    assert_eq!(fields[0].1, "join neck.hot volume.2 metered 0.3");
    let fields: Vec<(&str, &str)> = fields.iter().map(|(name, value)| (*name, value.as_str())).collect();
    let kept = house.post(&format!("/job/{number}/say"), &fields).await;
    assert!(kept.to().starts_with(&format!("{here}?doing=looking&zoom=2&kept=")), "{}", kept.to());
    assert!(house.get(kept.to()).await.body.contains("Kept as entry"));
    assert_eq!(
        house.workshop.job(&number).unwrap().traces.last().unwrap().body.text,
        "join neck.hot volume.2 metered 0.3"
    );
}

#[tokio::test]
async fn fields_make_a_line_that_is_read_before_it_is_kept() {
    let (house, number) = House::lived_in();
    let here = format!("/job/{number}/wiring");
    let page = house.get(&here).await.body;
    assert!(page.contains("<option value=\"neck.hot\">joined to volume.3</option>"), "names are completed");
    assert!(page.contains("<option value=\"jack.sleeve\">perhaps to volume.1</option>"));
    let asked =
        format!("{here}?tracing=join&page=wiring&from=neck+ground&to=jack.sleeve&how=seen&said=photo+12");
    let read = Page::read(&house.get(&asked).await.body);
    read.must_be_sound("join");
    assert_eq!(read.field("line"), "join neck.ground jack.sleeve seen photo 12");
    assert!(read.text_of("id", "heard").starts_with("Understood:"));
    let draft = read.field("draft");
    let fields = [
        ("line", "join neck.ground jack.sleeve seen photo 12"),
        ("page", "wiring"),
        ("tracing", "join"),
        ("draft", draft.as_str()),
    ];
    let kept = house.post(&format!("/job/{number}/say"), &fields).await;
    assert!(kept.to().contains("&tracing=join"), "{}", kept.to());
    let after = house.get(kept.to()).await;
    assert!(after.body.contains("<details open"), "the fields are there for the next join");
    assert!(!after.body.contains("Understood:"));

    let blank = Page::read(
        &house.get(&format!("{here}?tracing=join&from=neck.hot&to=&how=metered&said=")).await.body,
    );
    assert!(blank.text_of("id", "heard").contains("cannot be read"), "{}", blank.text_of("id", "heard"));
    let part = format!("{here}?tracing=part&sort=switch&name=lever&value=&plan=five-way+lever");
    assert_eq!(Page::read(&house.get(&part).await.body).field("line"), "switch lever five-way lever");
    // The script is answered the same.
    let piece = house
        .get(&format!("/job/{number}/heard?tracing=part&page=wiring&sort=pot&name=tone&value=250k&plan="))
        .await;
    assert!(piece.body.contains("pot tone 250k"), "{}", piece.body);
}

#[tokio::test]
async fn what_is_read_leads_to_its_mark_and_a_withheld_photograph_shows_none() {
    let (house, number, here) = photographed();
    let readings = format!("/job/{number}/readings");
    assert!(!house.get(&readings).await.body.contains("on the photograph"));
    house.say(&number, "mark neck.hot on photo 1 at 10 % 50 %");
    let look = format!("{here}?doing=looking&amp;zoom=2&amp;from=neck.hot#here");
    assert!(house.get(&format!("/job/{number}/wiring")).await.body.contains(&look));
    assert!(house.get(&format!("/job/{number}/wiring")).await.body.contains("one lug or part marked"));
    let seq: u64 = here.rsplit('/').next().unwrap().parse().unwrap();
    house.workshop.withhold(&number, seq, "Owner", "asked", "w").unwrap();
    house.get(&here).await.trouble(404);
    house.get(&format!("{here}/press?narrow.x=3&narrow.y=9")).await.trouble(404);
    let wiring = house.get(&format!("/job/{number}/wiring")).await.body;
    assert!(!wiring.contains("on the photograph") && !wiring.contains("Photograph 1"));
    assert!(
        house.get(&format!("/job/{number}/history")).await.body.contains("neck.hot is marked"),
        "the entry stays"
    );
}

#[tokio::test]
async fn every_zoom_and_both_ways_are_sound() {
    let (house, number, here) = photographed();
    for at in 0..9 {
        house.say(&number, &format!("mark lever.a{at} on photo 1 at {}.5 % 50 %", at * 11));
    }
    for zoom in ["1", "2", "4", "9", "x"] {
        for doing in ["looking", "marking"] {
            let address = format!("{here}?doing={doing}&zoom={zoom}&from=lever.a3");
            let answer = house.get(&address).await;
            assert_eq!(answer.status, 200, "{address}");
            Page::read(&answer.body).must_be_sound(&address);
        }
    }
    let hostile = format!("{here}?from=%3Cscript%3E&to=%22%3E&doing=%3Cb%3E&missed=1&kept=z");
    let answer = house.get(&hostile).await;
    assert_eq!(answer.status, 200);
    Page::read(&answer.body).must_be_sound(&hostile);
}
