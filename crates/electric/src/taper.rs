//! How a pot's wiper follows its knob.

/// How the share of the track between lug 1 and the wiper follows the knob.
///
/// The law goes by the share measured at half turn, never by a letter on the case: the letters for linear and
/// audio are the other way round in older European pots.
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum Taper {
    /// The share is the turn.
    Linear,
    /// Audio: slow at first. `middle` is the share at half turn, below a half; 0.10 to 0.30 are common.
    Audio {
        /// Share at half turn.
        middle: f64,
    },
    /// Reverse audio: fast at first. `middle` is the share at half turn, above a half.
    Reverse {
        /// Share at half turn.
        middle: f64,
    },
    /// Two straight pieces that meet at half turn, as a track printed in two mixtures has: `middle` there.
    TwoSlope {
        /// Share at half turn.
        middle: f64,
    },
    /// Not measured. The knob's turn is then read as the wiper's share, which is right at both ends only; a
    /// middle setting of such a pot is a place on the track, not on the dial.
    Unknown,
}

impl Taper {
    /// Share of the track between lug 1 and the wiper at a turn of 0 to 1; a turn outside is read as the
    /// nearer end.
    ///
    /// Exponential law a(x) = (b^x - 1)/(b - 1) with b = (1/m - 1)^2, the one exponential that gives 0, m and
    /// 1 at turns 0, 1/2 and 1. Exact at both ends.
    pub fn fraction(self, turn: f64) -> f64 {
        let turn = if turn > 0.0 { turn.min(1.0) } else { 0.0 };
        match self {
            Taper::Linear | Taper::Unknown => turn,
            Taper::Audio { middle } | Taper::Reverse { middle } => exponential(turn, middle),
            Taper::TwoSlope { middle } if turn <= 0.5 => 2.0 * middle * turn,
            Taper::TwoSlope { middle } => middle + (1.0 - middle) * (2.0 * turn - 1.0),
        }
    }

    /// The turn at which the wiper has this share of the track below it: [`Taper::fraction`] the other way round.
    pub fn turn_at(self, share: f64) -> f64 {
        let share = if share > 0.0 { share.min(1.0) } else { 0.0 };
        match self {
            Taper::Linear | Taper::Unknown => share,
            _ if share <= 0.0 || share >= 1.0 => share,
            Taper::Audio { middle } | Taper::Reverse { middle } => turn_of_exponential(share, middle),
            Taper::TwoSlope { middle } if share <= middle => share / (2.0 * middle),
            Taper::TwoSlope { middle } => 0.5 + (share - middle) / (2.0 * (1.0 - middle)),
        }
    }
}

fn exponential(turn: f64, middle: f64) -> f64 {
    if turn <= 0.0 || turn >= 1.0 {
        return turn;
    }
    match base(middle) {
        Some(base) => (libm::pow(base, turn) - 1.0) / (base - 1.0),
        None => turn,
    }
}

fn turn_of_exponential(share: f64, middle: f64) -> f64 {
    match base(middle) {
        Some(base) => libm::log(1.0 + share * (base - 1.0)) / libm::log(base),
        None => share,
    }
}

/// The base of the exponential law; `None` where it goes over into the straight line, as the middle goes to a half.
fn base(middle: f64) -> Option<f64> {
    let root = 1.0 / middle - 1.0;
    let base = root * root;
    ((base - 1.0).abs() >= 1e-9).then_some(base)
}

#[cfg(test)]
mod tests {
    use super::*;

    /// Both laws worked by hand from the three points they must pass; six printed digits, so half of the
    /// last.
    #[test]
    fn exponential_law_meets_its_table() {
        let table = [
            (0.10, 0.025000, 0.325000),
            (0.15, 0.044372, 0.401444),
            (0.20, 0.066667, 0.466667),
            (0.30, 0.118693, 0.576951),
        ];
        for (middle, quarter, three_quarters) in table {
            let taper = Taper::Audio { middle };
            assert!((taper.fraction(0.25) - quarter).abs() < 5.1e-7, "{middle}");
            assert!((taper.fraction(0.75) - three_quarters).abs() < 5.1e-7, "{middle}");
            assert!((taper.fraction(0.5) - middle).abs() < 1e-15, "{middle}");
            let mirrored = Taper::Reverse { middle: 1.0 - middle };
            assert!((mirrored.fraction(0.25) + taper.fraction(0.75) - 1.0).abs() < 1e-12, "{middle}");
        }
    }

    /// The same three-point table for the law of two straight pieces, worked by hand.
    #[test]
    fn two_straight_pieces_meet_their_table() {
        for (middle, quarter, three_quarters) in
            [(0.10, 0.05, 0.55), (0.15, 0.075, 0.575), (0.30, 0.15, 0.65)]
        {
            let taper = Taper::TwoSlope { middle };
            for (turn, share) in [(0.25, quarter), (0.5, middle), (0.75, three_quarters)] {
                assert!((taper.fraction(turn) - share).abs() < 1e-15, "{middle} at {turn}");
            }
        }
    }

    #[test]
    fn a_share_leads_back_to_its_turn() {
        let laws = [
            Taper::Linear,
            Taper::Audio { middle: 0.15 },
            Taper::Reverse { middle: 0.85 },
            Taper::TwoSlope { middle: 0.2 },
            Taper::Audio { middle: 0.4999999999 },
        ];
        for (law, step) in laws.into_iter().flat_map(|law| (0..=20).map(move |step| (law, step))) {
            let turn = f64::from(step) / 20.0;
            // A few roundings of a logarithm.
            assert!((law.turn_at(law.fraction(turn)) - turn).abs() < 1e-12, "{law:?} at {turn}");
        }
    }

    #[test]
    fn ends_are_exact_and_turns_outside_are_the_nearer_end() {
        for taper in
            [Taper::Linear, Taper::Audio { middle: 0.1 }, Taper::Reverse { middle: 0.9 }, Taper::Unknown]
        {
            assert_eq!(
                [-1.0, 0.0, 1.0, 7.0, f64::NAN].map(|turn| taper.fraction(turn)),
                [0.0, 0.0, 1.0, 1.0, 0.0]
            );
        }
    }
}
