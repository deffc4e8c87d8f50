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
        }
    }
}

fn exponential(turn: f64, middle: f64) -> f64 {
    if turn <= 0.0 || turn >= 1.0 {
        return turn;
    }
    let root = 1.0 / middle - 1.0;
    let base = root * root;
    if (base - 1.0).abs() < 1e-9 {
        return turn; // the limit of the law as the middle goes to a half
    }
    (libm::pow(base, turn) - 1.0) / (base - 1.0)
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
