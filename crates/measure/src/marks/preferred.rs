//! Which values are made at all: the preferred series, and the round figures from before them.

/// A series of preferred values (IEC 60063): so many to a decade.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
pub enum Series {
    /// 20 % steps.
    E6,
    /// 10 % steps.
    E12,
    /// 5 % steps.
    E24,
    /// 2 % steps.
    E48,
    /// 1 % steps.
    E96,
    /// Half a per cent and finer.
    E192,
}

/// IEC 60063. Eight of them are not the rounded powers of ten.
const E24: [u32; 24] =
    [10, 11, 12, 13, 15, 16, 18, 20, 22, 24, 27, 30, 33, 36, 39, 43, 47, 51, 56, 62, 68, 75, 82, 91];

impl Series {
    /// All series, the coarsest first.
    pub const ALL: [Series; 6] =
        [Series::E6, Series::E12, Series::E24, Series::E48, Series::E96, Series::E192];

    /// Its name in the standard.
    pub fn name(self) -> &'static str {
        ["E6", "E12", "E24", "E48", "E96", "E192"][self as usize]
    }

    /// The values of one decade, from 100 to 999.
    pub fn values(self) -> Vec<u32> {
        match self {
            Series::E6 => E24.iter().step_by(4).map(|value| value * 10).collect(),
            Series::E12 => E24.iter().step_by(2).map(|value| value * 10).collect(),
            Series::E24 => E24.iter().map(|value| value * 10).collect(),
            Series::E48 => rounded(48),
            Series::E96 => rounded(96),
            // The one value of the standard that is not the rounded power: 920, where that gives 919.
            Series::E192 => {
                rounded(192).into_iter().map(|value| if value == 919 { 920 } else { value }).collect()
            }
        }
    }
}

fn rounded(steps: u32) -> Vec<u32> {
    let value = |step: u32| libm::round(100.0 * libm::pow(10.0, f64::from(step) / f64::from(steps))) as u32;
    (0..steps).map(value).collect()
}

/// The three leading figures of a value, from 100 to 999; `None` where it has more, or is nothing.
fn figures(value: f64) -> Option<u32> {
    if !(value.is_finite() && value > 0.0) {
        return None;
    }
    let decade = libm::floor(libm::log10(value));
    let scaled = value / libm::pow(10.0, decade) * 100.0;
    // A value at the very top of its decade can come out as 1000.
    let (scaled, whole) = if scaled >= 999.5 {
        (scaled / 10.0, libm::round(scaled / 10.0))
    } else {
        (scaled, libm::round(scaled))
    };
    ((scaled - whole).abs() < 1e-6 * whole).then_some(whole as u32)
}

/// The coarsest series that has the value; `None` where none has.
pub fn preferred(value: f64) -> Option<Series> {
    let figures = figures(value)?;
    Series::ALL.into_iter().find(|series| series.values().contains(&figures))
}

/// Whether it is one of the round figures that were made before the preferred series: 20, 25, 30, 40, 50, 80 and 250, 500
/// with their decades (common practice, no source).
pub fn old_decade(value: f64) -> bool {
    figures(value).is_some_and(|figures| [100, 200, 250, 300, 400, 500, 750, 800].contains(&figures))
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn the_series_are_those_of_the_standard() {
        // IEC 60063: counts, and the exceptions from the rounded powers of ten.
        for (series, count) in Series::ALL.into_iter().zip([6, 12, 24, 48, 96, 192]) {
            assert_eq!(series.values().len(), count);
        }
        assert_eq!(Series::E6.values(), [100, 150, 220, 330, 470, 680]);
        assert_eq!(Series::E12.values(), [100, 120, 150, 180, 220, 270, 330, 390, 470, 560, 680, 820]);
        let by_rule = |step: u32| libm::round(10.0 * libm::pow(10.0, f64::from(step) / 24.0)) as u32;
        let odd: Vec<u32> = (0..24)
            .filter(|&step| by_rule(step) != E24[step as usize])
            .map(|step| E24[step as usize])
            .collect();
        assert_eq!(odd, [27, 30, 33, 36, 39, 43, 47, 82]);
        assert_eq!(&Series::E96.values()[..5], [100, 102, 105, 107, 110]);
        assert!(Series::E192.values().contains(&920) && !Series::E192.values().contains(&919));
    }

    #[test]
    fn a_value_has_its_coarsest_series() {
        for (value, series) in [
            (22e-9, Some(Series::E6)),
            (1.2, Some(Series::E12)),
            (910.0, Some(Series::E24)),
            (49.9e3, Some(Series::E96)),
            (470e3, Some(Series::E6)),
            (0.25e6, None),
            (22.05e3, None),
        ] {
            assert_eq!(preferred(value), series, "{value}");
        }
        assert!(old_decade(250e3) && old_decade(0.02e-6) && old_decade(50e-9) && !old_decade(270e3));
        assert_eq!((preferred(0.0), preferred(f64::NAN), old_decade(-1.0)), (None, None, false));
    }
}
