//! Inductance in air of each kind of coil, worked out once and asked in nanoseconds.

use super::construction::Construction;
use crate::bobbin::{Bobbin, Turns};
use crate::inductance::AirCore;
use asfound_measure::Millimetres;
use std::sync::OnceLock;

/// Air-core tables of the kinds of coil, each built when first asked for. Keep one and hand it to every weighing.
#[derive(Debug, Default)]
pub struct Tables {
    built: [OnceLock<Option<Built>>; Construction::ALL.len()],
}

/// The tables of a lower bobbin, the nominal one and a taller one, to follow a height that differs.
#[derive(Debug)]
struct Built {
    height: f64,
    lower: AirCore,
    nominal: AirCore,
    taller: AirCore,
}

/// How much taller the third bobbin is, and the first lower.
const TALLER: f64 = 1.15;

/// How many rooms deep the tables go. A draw that is deeper than its room is thrown away, and rooms vary.
const ROOMS: f64 = 1.6;

impl Tables {
    /// Inductance in air, in henries, for a bobbin whose outline is a multiple of the table's, with a height in mm.
    ///
    /// A coil enlarged in every measure by a factor has its inductance enlarged by that factor, so an outline `s` times
    /// as large with a depth `T` and height `h` is `s` times the table's at `T/s` and `h/s`. The height is followed by a
    /// parabola through three tables, all on a logarithmic scale.
    pub(super) fn in_air(
        &self,
        construction: Construction,
        outline: f64,
        height: f64,
        depth: Millimetres,
        turns: Turns,
    ) -> f64 {
        let built = self.built[construction as usize].get_or_init(|| Built::of(construction));
        let Some(built) = built else { return 0.0 };
        let scaled = Millimetres(depth.value() / outline);
        let at = |table: &AirCore| table.inductance(scaled, turns).map_or(0.0, |henries| henries.value());
        let (lower, nominal, taller) = (at(&built.lower), at(&built.nominal), at(&built.taller));
        if nominal <= 0.0 {
            return 0.0;
        }
        let (below, above) = (libm::log(lower / nominal), libm::log(taller / nominal));
        let steps = libm::log(height / outline / built.height) / libm::log(TALLER);
        let bent = 0.5 * steps * ((above - below) + steps * (above + below));
        outline * nominal * libm::exp(bent)
    }
}

impl Built {
    /// `None` only for a row of the table that is no bobbin, which a test shows there is not.
    fn of(construction: Construction) -> Option<Self> {
        let row = construction.row();
        let bobbin = row.bobbin().ok()?;
        let height = row.height.mean;
        let deepest = Millimetres(ROOMS * row.room.mean);
        let table = |height: f64| {
            let bobbin = Bobbin::new(bobbin.former(), Millimetres(height)).ok()?;
            AirCore::tabulate(&bobbin, deepest).ok()
        };
        let (lower, nominal, taller) = (table(height / TALLER)?, table(height)?, table(height * TALLER)?);
        Some(Self { height, lower, nominal, taller })
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    /// Against a table made for just that bobbin: every kind of coil, outline and height three spreads off.
    #[test]
    fn a_bobbin_off_the_table_is_followed() {
        let tables = Tables::default();
        for construction in Construction::ALL {
            let row = construction.row();
            for (outline, height_off) in [(1.0, 0.0), (1.05, 3.0), (0.95, -3.0)] {
                let height = row.height.mean + height_off * row.height.deviation;
                let bobbin = row.bobbin_of(outline, height).expect("a bobbin");
                let depth = Millimetres(0.8 * row.room.mean);
                let own = AirCore::tabulate(&bobbin, Millimetres(2.0 * row.room.mean)).expect("a table");
                let expected = own.inductance(depth, Turns(5000.0)).expect("within").value();
                let found = tables.in_air(construction, outline, height, depth, Turns(5000.0));
                // The core's share is known to about 7 %; half of one per cent is nothing beside it.
                assert!(
                    (found / expected - 1.0).abs() < 5e-3,
                    "{construction:?} {outline}: {found} {expected}"
                );
            }
        }
    }
}
