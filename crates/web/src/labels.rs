//! Names beside the marks on a photograph, set where there is room for them.

use asfound_study::lugs::lug_of;
use asfound_study::marks::{Marked, Picture, WHOLE};

/// A name beside a mark: how it is set, and how far from the mark, in pixels.
#[derive(Debug, Clone, PartialEq, Eq)]
pub(crate) struct Label {
    pub(crate) words: String,
    pub(crate) anchor: &'static str,
    pub(crate) right: i32,
    pub(crate) down: i32,
}

/// Left, upper, right and lower edge, in pixels.
type Edges = [i32; 4];

/// About how wide a letter is, and how high a line, in pixels.
const LETTER: (i32, i32) = (8, 16);

/// How far from a mark's middle its ring reaches, and its name begins.
const RING: (i32, i32) = (9, 13);

/// The name of each mark where it has room beside its ring in a picture of this size. Of a lug without its part; a chosen
/// one's in full where that has room, and before the others. The list beside the picture names them all.
pub(crate) fn placed(
    picture: &Picture,
    shown: (u32, u32),
    is_chosen: &dyn Fn(&Marked) -> bool,
) -> Vec<Option<Label>> {
    let at = |mark: &Marked| (along(mark.x, shown.0), along(mark.y, shown.1));
    let ring = |(x, y): (i32, i32)| [x - RING.0, y - RING.0, x + RING.0, y + RING.0];
    let mut taken: Vec<Edges> = picture.marks.iter().map(|mark| ring(at(mark))).collect();
    let paper = (along(WHOLE, shown.0), along(WHOLE, shown.1));
    let mut order: Vec<usize> = (0..picture.marks.len()).collect();
    order.sort_by_key(|&one| !is_chosen(&picture.marks[one]));
    let mut labels = vec![None; picture.marks.len()];
    for one in order {
        let mark = &picture.marks[one];
        let names: &[&str] =
            if is_chosen(mark) { &[&mark.of, lug_of(&mark.of)] } else { &[lug_of(&mark.of)] };
        let free =
            |edges: &Edges| is_inside(edges, paper) && taken.iter().all(|other| are_apart(edges, other));
        let found = names.iter().flat_map(|words| around(words, at(mark))).find(|(_, edges)| free(edges));
        if let Some((label, edges)) = found {
            taken.push(edges);
            labels[one] = Some(label);
        }
    }
    labels
}

/// Where a place in ten-thousandths lies along a picture, in pixels.
fn along(part: u32, whole: u32) -> i32 {
    i32::try_from(u64::from(part) * u64::from(whole) / u64::from(WHOLE)).unwrap_or(i32::MAX / 2)
}

/// A name to the right of a mark, to its left, above and below.
fn around(words: &str, (x, y): (i32, i32)) -> [(Label, Edges); 4] {
    let across = LETTER.0 * i32::try_from(words.chars().count()).unwrap_or(i32::MAX / 16).min(10_000);
    let (gap, half) = (RING.1, LETTER.1 / 2);
    let label = |anchor, right, down| Label { words: words.to_owned(), anchor, right, down };
    [
        (label("start", gap + 1, 5), [x + gap, y - half, x + gap + across, y + half]),
        (label("end", -gap - 1, 5), [x - gap - across, y - half, x - gap, y + half]),
        (label("middle", 0, -gap - 1), [x - across / 2, y - gap - LETTER.1, x + across / 2, y - gap]),
        (label("middle", 0, gap + 11), [x - across / 2, y + gap, x + across / 2, y + gap + LETTER.1]),
    ]
}

fn is_inside(edges: &Edges, (wide, high): (i32, i32)) -> bool {
    edges[0] >= 2 && edges[1] >= 2 && edges[2] <= wide - 2 && edges[3] <= high - 2
}

fn are_apart(one: &Edges, other: &Edges) -> bool {
    one[2] <= other[0] || other[2] <= one[0] || one[3] <= other[1] || other[3] <= one[1]
}
