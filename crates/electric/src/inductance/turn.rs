//! The flux that one layer of a winding sends through another: the sum that everything else here is made of.
//!
//! A layer is a turn of one shape drawn out to the whole height h of the winding, a sheet of current. Neumann's integral
//! `M = μ₀/4π ∮∮ dl·dl′/r`, averaged over both heights, leaves a double integral in the plane with the kernel
//! `G(ρ) = (2/h²)[h asinh(h/ρ) − √(ρ²+h²) + ρ]`, and of that integral the part between straights is closed, the part
//! between straight and arc is single, and only arcs about different corners need a double sum.

use super::quadrature::Gauss;
use std::f64::consts::PI;

/// A quarter turn.
const QUARTER: f64 = 0.5 * PI;

/// The shape of a turn: a rectangle `lengths[0]` by `lengths[1]`, pushed out by a radius. An obround has one length of
/// zero, a circle both. All in millimetres.
#[derive(Debug, Clone, Copy)]
pub(super) struct Turn {
    pub(super) lengths: [f64; 2],
    pub(super) radius: f64,
}

/// The kernel for layers of one height, and the rules that it is summed with.
pub(super) struct Layers {
    height: f64,
    line: Gauss,
    plane: Gauss,
}

impl Layers {
    pub(super) fn new(height: f64) -> Self {
        Self { height, line: Gauss::new(20), plane: Gauss::new(8) }
    }

    /// `∮∮ dl·dl′ G` over two turns about one centre, in millimetres.
    pub(super) fn linked(&self, a: Turn, b: Turn) -> f64 {
        self.straights(a, b) + self.straight_with_arcs(a, b) + self.straight_with_arcs(b, a) + self.arcs(a, b)
    }

    /// `G(ρ)`, for ρ > 0.
    fn kernel(&self, rho: f64) -> f64 {
        let h = self.height;
        let across = (rho * rho + h * h).sqrt();
        2.0 / (h * h) * (h * libm::log((h + across) / rho) - h * h / (across + rho))
    }

    /// `∫₀ˣ G(√(s²+d²)) ds`, odd in x.
    fn along(&self, x: f64, d: f64) -> f64 {
        let h = self.height;
        if x == 0.0 {
            return 0.0;
        }
        let (rho, out) = ((x * x + d * d).sqrt(), (d * d + h * h).sqrt());
        let across = (rho * rho + h * h).sqrt();
        let reach = libm::asinh(x / out);
        let log = libm::log((h + across) / rho);
        let mut sum = h * (x * log + h * reach) - 0.5 * (x * across + out * out * reach) + 0.5 * x * rho;
        if d > 0.0 {
            sum += 0.5 * d * d * libm::asinh(x / d) - h * d * libm::atan(h * x / (d * across));
        }
        2.0 / (h * h) * sum
    }

    /// `∫ ρ G dρ`, up to a constant.
    fn moment(&self, rho: f64) -> f64 {
        let h = self.height;
        let across = (rho * rho + h * h).sqrt();
        let log = if rho > 0.0 { rho * rho * libm::log((h + across) / rho) } else { 0.0 };
        2.0 / (h * h) * (0.5 * h * (log + h * across) - (across * across * across - rho * rho * rho) / 3.0)
    }

    /// `∫₀ˣ (x − s) G(√(s²+d²)) ds`: half of what two equal parallel straights of length x, d apart, have in common.
    fn facing(&self, x: f64, d: f64) -> f64 {
        x * self.along(x, d) - (self.moment((x * x + d * d).sqrt()) - self.moment(d))
    }

    fn straights(&self, a: Turn, b: Turn) -> f64 {
        let mut sum = 0.0;
        for way in [0, 1] {
            let (long, short) = (a.lengths[way].max(b.lengths[way]), a.lengths[way].min(b.lengths[way]));
            if short <= 0.0 {
                continue;
            }
            let (at, other) = (a.half_width(way), b.half_width(way));
            for (d, sign) in [((at - other).abs(), 1.0), (at + other, -1.0)] {
                let both = self.facing(0.5 * (long + short), d) - self.facing(0.5 * (long - short), d);
                sum += sign * 4.0 * both; // twice for the weight's two sides, twice for the two straights
            }
        }
        sum
    }

    /// The straights of one turn with the arcs of the other: each straight has two arcs near and two far, alike by
    /// symmetry.
    fn straight_with_arcs(&self, straights: Turn, arcs: Turn) -> f64 {
        let mut sum = 0.0;
        if arcs.radius <= 0.0 {
            return sum;
        }
        for way in [0, 1] {
            let (length, at) = (straights.lengths[way], straights.half_width(way));
            if length <= 0.0 {
                continue;
            }
            let half_across = 0.5 * arcs.lengths[1 - way];
            let gap = (straights.radius - arcs.radius).abs() / arcs.radius;
            let integral = self.line.integrate_steep(QUARTER, gap, |angle| {
                let (sine, cosine) = libm::sincos(angle);
                let beyond = 0.5 * (arcs.lengths[way] - length) + arcs.radius * sine;
                let to_line = |d: f64| self.along(beyond + length, d) - self.along(beyond, d);
                let arc_at = half_across + arcs.radius * cosine;
                cosine * (to_line((at - arc_at).abs()) - to_line(at + arc_at))
            });
            sum += 4.0 * arcs.radius * integral;
        }
        sum
    }

    fn arcs(&self, a: Turn, b: Turn) -> f64 {
        if a.radius <= 0.0 || b.radius <= 0.0 {
            return 0.0;
        }
        let one = self.about_one_corner(a, b);
        if a.lengths == [0.0, 0.0] { one } else { one + self.about_two_corners(a, b) }
    }

    /// Arcs about the same point: four quarters, two halves or one full circle, as the corners fall together.
    fn about_one_corner(&self, a: Turn, b: Turn) -> f64 {
        let product = a.radius * b.radius;
        let gap = a.radius - b.radius;
        let corners = a.lengths.iter().filter(|length| **length > 0.0).count();
        let (arcs, angle) = [(1.0, PI), (2.0, PI), (4.0, QUARTER)][corners];
        let integral = self.line.integrate_steep(angle, gap.abs() / product.sqrt(), |turned| {
            let sine = libm::sin(0.5 * turned);
            let rho = (gap * gap + 4.0 * product * sine * sine).sqrt();
            // On a full circle every difference of angle is as frequent; on an arc the greater ones are rarer.
            let frequency = if corners == 0 { 2.0 * PI } else { angle - turned };
            frequency * (1.0 - 2.0 * sine * sine) * self.kernel(rho)
        });
        2.0 * arcs * product * integral
    }

    /// Quarter arcs about different corners: across the length, across the width, and diagonally.
    fn about_two_corners(&self, a: Turn, b: Turn) -> f64 {
        let mut sum = -self.diagonal(a, b);
        for way in [0, 1] {
            if a.lengths[way] > 0.0 {
                sum += self.across(a, b, a.lengths[way]);
            }
        }
        4.0 * a.radius * b.radius * sum
    }

    /// Two quarter arcs that turn their backs on each other over a distance: they come nearest where the straights between
    /// them begin, and there the sum is steep.
    fn across(&self, a: Turn, b: Turn, distance: f64) -> f64 {
        let gap = (distance + (a.radius - b.radius).abs()) / a.radius.max(b.radius);
        self.plane.integrate_steep(QUARTER, gap, |alpha| {
            let (sin_a, cos_a) = libm::sincos(alpha);
            self.plane.integrate_steep(QUARTER, gap, |beta| {
                let (sin_b, cos_b) = libm::sincos(beta);
                let along = distance + a.radius * sin_a + b.radius * sin_b;
                let beside = a.radius * cos_a - b.radius * cos_b;
                (cos_a * cos_b - sin_a * sin_b) * self.kernel((along * along + beside * beside).sqrt())
            })
        })
    }

    /// Two quarter arcs about opposite corners.
    fn diagonal(&self, a: Turn, b: Turn) -> f64 {
        let [length, width] = a.lengths;
        self.plane.integrate(QUARTER, |alpha| {
            let (sin_a, cos_a) = libm::sincos(alpha);
            self.plane.integrate(QUARTER, |beta| {
                let (sin_b, cos_b) = libm::sincos(beta);
                let x = length + a.radius * sin_a + b.radius * sin_b;
                let y = width + a.radius * cos_a + b.radius * cos_b;
                (cos_a * cos_b + sin_a * sin_b) * self.kernel((x * x + y * y).sqrt())
            })
        })
    }
}

impl Turn {
    /// How far from the middle the straights along a way lie.
    fn half_width(self, way: usize) -> f64 {
        0.5 * self.lengths[1 - way] + self.radius
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    /// Circles, obrounds and rectangles laid round or square, with the radii or the gain that a depth adds.
    fn turn(shape: usize, depth: f64) -> Turn {
        match shape {
            0 => Turn { lengths: [0.0, 0.0], radius: 18.6 + depth },
            1 => Turn { lengths: [0.0, 0.0], radius: 3.0 + depth },
            2 => Turn { lengths: [52.4, 0.0], radius: 2.48 + depth },
            3 => Turn { lengths: [55.0, 7.0], radius: depth },
            4 => Turn { lengths: [40.0, 2.0], radius: depth },
            _ => Turn { lengths: [55.0 + 2.0 * depth, 7.0 + 2.0 * depth], radius: 0.0 },
        }
    }
    const SHAPES: std::ops::Range<usize> = 0..6;

    /// Height of the layers and the two depths.
    const LAYERS: [(f64, f64, f64); 6] = [
        (3.0, 4e-5, 1e-5),
        (3.0, 0.3, 0.29),
        (11.0, 5.0, 4.9),
        (11.0, 5.0, 0.1),
        (6.4, 8.0, 4.0),
        (20.0, 2.0, 0.01),
    ];

    #[test]
    fn more_points_change_nothing() {
        // Three times the points. 1e-5 where two layers nearly coincide on a wide short circle, 1e-9 elsewhere.
        for shape in SHAPES {
            for (height, depth, other) in LAYERS {
                let (a, b) = (turn(shape, depth), turn(shape, other));
                let fine = Layers { height, line: Gauss::new(60), plane: Gauss::new(30) }.linked(a, b);
                let found = Layers::new(height).linked(a, b);
                let tolerance = if depth < 0.1 { 1e-5 } else { 1e-8 };
                assert!((found / fine - 1.0).abs() < tolerance, "{a:?} {b:?} {height}: {found} {fine}");
            }
        }
    }

    #[test]
    fn what_one_turn_sends_through_another_comes_back() {
        for shape in SHAPES {
            for (height, depth, other) in LAYERS {
                let layers = Layers::new(height);
                let (a, b) = (turn(shape, depth), turn(shape, other));
                let (there, back) = (layers.linked(a, b), layers.linked(b, a));
                assert!((there / back - 1.0).abs() < 1e-5, "{a:?} {b:?}: {there} {back}");
                // No more than the geometric mean of what each sends through itself.
                let own = (layers.linked(a, a) * layers.linked(b, b)).sqrt();
                assert!(there > 0.0 && there < own * (1.0 + 1e-5), "{a:?} {b:?}: {there} {own}");
            }
        }
    }

    /// Places and steps around a turn, clockwise, in short chords.
    fn chords(turn: Turn) -> Vec<[f64; 4]> {
        const EACH: usize = 60;
        let [half_length, half_width] = turn.lengths.map(|length| 0.5 * length);
        let mut corners = Vec::new();
        for (quarter, [x, y]) in [[1.0, 1.0], [1.0, -1.0], [-1.0, -1.0], [-1.0, 1.0]].into_iter().enumerate()
        {
            for step in 0..=EACH {
                let angle = QUARTER * (1.0 - quarter as f64 - step as f64 / EACH as f64);
                let (sine, cosine) = libm::sincos(angle);
                corners.push([x * half_length + turn.radius * cosine, y * half_width + turn.radius * sine]);
            }
        }
        let mut chords = Vec::new();
        for (i, from) in corners.iter().enumerate() {
            let to = corners[(i + 1) % corners.len()];
            let (dx, dy) = (to[0] - from[0], to[1] - from[1]);
            let pieces = 1.0_f64.max((2.0 * (dx * dx + dy * dy).sqrt()).ceil());
            for piece in 0..pieces as usize {
                let share = (piece as f64 + 0.5) / pieces;
                chords.push([from[0] + share * dx, from[1] + share * dy, dx / pieces, dy / pieces]);
            }
        }
        chords
    }

    #[test]
    fn a_sum_over_polygons() {
        // Neumann's double sum over chords of half a millimetre and less, and over both heights by a rule of its own:
        // nothing in common with the closed forms. The layers are 2 mm apart, so chords are good for
        // 5e-4; five times shorter, they agree within 4e-6.
        let heights = Gauss::new(16);
        let height = 11.0;
        let kernel = |x: f64, y: f64| {
            heights.integrate(1.0, |v| {
                let z = height * v;
                2.0 * (1.0 - v) / (x * x + y * y + z * z).sqrt()
            })
        };
        for shape in SHAPES {
            let (a, b) = (turn(shape, 3.5), turn(shape, 1.5));
            let (around, within) = (chords(a), chords(b));
            let mut sum = 0.0;
            for [x, y, dx, dy] in &around {
                for [u, v, du, dv] in &within {
                    let along = dx * du + dy * dv;
                    if along != 0.0 {
                        sum += along * kernel(x - u, y - v);
                    }
                }
            }
            let found = Layers::new(height).linked(a, b);
            assert!((found / sum - 1.0).abs() < 5e-4, "{a:?}: {found}, polygons {sum}");
        }
    }

    #[test]
    fn the_closed_integrals_of_the_kernel() {
        let layers = Layers::new(6.4);
        let rule = Gauss::new(40);
        for d in [0.05, 1.0, 20.0] {
            for x in [0.5, 10.0, 60.0] {
                let at = |s: f64| layers.kernel((s * s + d * d).sqrt());
                let along = rule.integrate_steep(x, d, at);
                let facing = rule.integrate_steep(x, d, |s| (x - s) * at(s));
                assert!((layers.along(x, d) / along - 1.0).abs() < 1e-12, "{x} {d}");
                assert!((layers.facing(x, d) / facing - 1.0).abs() < 1e-11, "{x} {d}");
            }
        }
        assert_eq!(layers.along(0.0, 0.0), 0.0);
    }
}
