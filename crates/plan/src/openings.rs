//! The bench's openings as a list, reckoned in seconds from a start: from elapsed time to open time and back.

/// Open from one second until another, and how many open seconds lie before.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
struct Stretch {
    opens: i64,
    closes: i64,
    before: i64,
}

/// Openings in order. Seconds before the start, second 0, count for nothing.
#[derive(Debug, Clone, Default)]
pub(crate) struct Openings {
    stretches: Vec<Stretch>,
}

impl Openings {
    /// One that begins not before the last ends. What lies before second 0 is left out.
    pub(crate) fn add(&mut self, opens: i64, closes: i64) {
        let opens = opens.max(0);
        if closes <= opens {
            return;
        }
        match self.stretches.last_mut() {
            Some(last) if last.closes >= opens => last.closes = last.closes.max(closes),
            _ => {
                let before = self.stretches.last().map_or(0, |last| last.before + last.closes - last.opens);
                self.stretches.push(Stretch { opens, closes, before });
            }
        }
    }

    /// The first stretch that closes after a second.
    fn next(&self, at: i64) -> Option<&Stretch> {
        self.stretches.get(self.stretches.partition_point(|stretch| stretch.closes <= at))
    }

    /// The first second from `at` on in which the bench is open, `at` itself after the last opening.
    pub(crate) fn open_from(&self, at: i64) -> i64 {
        self.next(at).map_or(at, |stretch| stretch.opens.max(at))
    }

    /// The first second from `at` on from which the bench stays open for so long; where it never does,
    /// as [`open_from`](Self::open_from).
    pub(crate) fn open_for(&self, at: i64, work: i64) -> i64 {
        let first = self.stretches.partition_point(|stretch| stretch.closes <= at);
        let long =
            self.stretches[first..].iter().find(|stretch| stretch.closes - stretch.opens.max(at) >= work);
        long.map_or_else(|| self.open_from(at), |stretch| stretch.opens.max(at))
    }

    /// How many open seconds lie between the start and a second.
    pub(crate) fn open_before(&self, at: i64) -> i64 {
        match self.next(at) {
            Some(stretch) => stretch.before + (at - stretch.opens).max(0),
            None => self.all(),
        }
    }

    /// The second at which hands that begin at `at`, or when the bench next opens, have worked so long. No work is done
    /// at once.
    pub(crate) fn worked(&self, at: i64, work: i64) -> i64 {
        if work == 0 { at } else { self.earliest(self.open_before(at) + work) }
    }

    /// The first second before which so many open seconds lie. Beyond the last opening the bench stays open: the list is
    /// made long enough, and this only keeps it from saying nonsense.
    fn earliest(&self, open: i64) -> i64 {
        let place = self.stretches.partition_point(|stretch| stretch.before < open);
        match place.checked_sub(1) {
            Some(held) => self.stretches[held].opens + open - self.stretches[held].before,
            None => 0,
        }
    }

    /// The last second before which no more than so many open seconds lie.
    fn latest(&self, open: i64) -> i64 {
        let place = self.stretches.partition_point(|stretch| stretch.before <= open);
        match place.checked_sub(1) {
            Some(held) => {
                let stretch = self.stretches[held];
                let inside = stretch.opens + open - stretch.before;
                match self.stretches.get(place) {
                    Some(next) if inside >= stretch.closes => next.opens,
                    _ => inside,
                }
            }
            None => self.stretches.first().map_or(0, |stretch| stretch.opens),
        }
    }

    /// The last second at which hands may begin that are to be done by `by`. None where that is before the start.
    pub(crate) fn begin_by(&self, by: i64, work: i64) -> Option<i64> {
        if work == 0 {
            return Some(by);
        }
        let open = self.open_before(by.max(0)) - work;
        (open >= 0).then(|| self.latest(open))
    }

    /// The same for work within one opening; where none is so long, as [`begin_by`](Self::begin_by).
    pub(crate) fn begin_whole_by(&self, by: i64, work: i64) -> Option<i64> {
        if work == 0 || work > self.longest() {
            return self.begin_by(by, work);
        }
        let until = self.stretches.partition_point(|stretch| stretch.opens < by);
        let fits = |stretch: &&Stretch| stretch.closes.min(by) - stretch.opens >= work;
        self.stretches[..until].iter().rev().find(fits).map(|stretch| stretch.closes.min(by) - work)
    }

    /// The longest that the bench stays open.
    pub(crate) fn longest(&self) -> i64 {
        self.stretches.iter().map(|stretch| stretch.closes - stretch.opens).max().unwrap_or(0)
    }

    /// The last closing.
    pub(crate) fn end(&self) -> i64 {
        self.stretches.last().map_or(0, |last| last.closes)
    }

    /// All open seconds.
    pub(crate) fn all(&self) -> i64 {
        self.stretches.last().map_or(0, |last| last.before + last.closes - last.opens)
    }
}
