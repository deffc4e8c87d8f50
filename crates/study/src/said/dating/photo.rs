//! Photographs named in words: `on photo 8`.

use asfound_record::Job;

use crate::marks::number_of;
use crate::said::tokens::tokens;

/// A photograph that was named by its number.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct PhotoNamed {
    /// The number.
    pub number: usize,
    /// The entry that keeps it; `None` where the job has no photograph of that number.
    pub seq: Option<u64>,
}

/// The photographs named in one observation, with where each is named.
pub(super) struct Photos(Vec<(usize, PhotoNamed)>);

impl Photos {
    pub(super) fn of(job: &Job, words: &str) -> Photos {
        let keeper = |number: usize| {
            job.photographs.iter().find(|item| number_of(job, item.root) == number).map(|item| item.seq)
        };
        let named = numbers(words).into_iter();
        Photos(named.map(|(at, number)| (at, PhotoNamed { number, seq: keeper(number) })).collect())
    }

    /// The photograph meant with what is said at this place: the next one named, else the last one before.
    pub(super) fn at(&self, byte: usize) -> Option<PhotoNamed> {
        let next = self.0.iter().find(|(at, _)| *at >= byte);
        next.or(self.0.last()).map(|(_, photo)| *photo)
    }
}

/// `photo 8`, `photos 8 and 9`, `picture no 8`, `photo8`.
fn numbers(words: &str) -> Vec<(usize, usize)> {
    let tokens = tokens(words);
    let mut found = Vec::new();
    let mut naming = false;
    for token in &tokens {
        let word = token.lower.trim_start_matches('#');
        let joined = word.strip_prefix("photo").filter(|rest| !rest.is_empty());
        if let Some(number) = joined.and_then(|rest| rest.parse().ok()) {
            found.push((token.start, number));
        } else if ["photo", "photos", "picture", "pictures", "photograph", "photographs"].contains(&word) {
            naming = true;
        } else if let Some(number) = word.parse().ok().filter(|_| naming) {
            found.push((token.start, number));
        } else {
            naming &= ["and", "to", "no", "number", "nr"].contains(&word);
        }
    }
    found
}

#[cfg(test)]
mod tests {
    use super::numbers;

    #[test]
    fn photographs_by_number() {
        let read = |words: &str| numbers(words).into_iter().map(|(_, number)| number).collect::<Vec<_>>();
        assert_eq!(read("stamped 137 6338, on photo 8"), [8]);
        assert_eq!(read("photos 8 and 9, photo12, picture no 3"), [8, 9, 12, 3]);
        assert_eq!(read("no photo of the 8 screws"), Vec::<usize>::new());
    }
}
