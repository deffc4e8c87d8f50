//! The flux that one layer of a winding sends through another: the sum that everything else here is made of.
//!
//! A layer is a turn of one shape drawn out to the whole height h of the winding, a sheet of current. Neumann's integral
//! `M = μ₀/4π ∮∮ dl·dl′/r`, averaged over both heights, leaves a double integral in the plane with the kernel
//! `G(ρ) = (2/h²)[h asinh(h/ρ) − √(ρ²+h²) + ρ]`, and of that integral the part between straights is closed, the part
//! between straight and arc is single, and only arcs about different corners need a double sum.

use super::quadrature::Gauss;

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
        Self { height, line: Gauss::new(12), plane: Gauss::new(6) }
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
            let integral = self.line.integrate_steep(0.5 * std::f64::consts::PI, gap, |angle| {
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
        use std::f64::consts::PI;
        let product = a.radius * b.radius;
        let gap = a.radius - b.radius;
        let corners = a.lengths.iter().filter(|length| **length > 0.0).count();
        let (arcs, angle) = [(1.0, PI), (2.0, PI), (4.0, 0.5 * PI)][corners];
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
        let quarter = 0.5 * std::f64::consts::PI;
        let [length, width] = [a.lengths[0], a.lengths[1]];
        let integral = self.plane.integrate(quarter, |alpha| {
            let (sin_a, cos_a) = libm::sincos(alpha);
            self.plane.integrate(quarter, |beta| {
                let (sin_b, cos_b) = libm::sincos(beta);
                let near = [a.radius * sin_a - b.radius * sin_b, a.radius * cos_a - b.radius * cos_b];
                let far = [
                    length + a.radius * sin_a + b.radius * sin_b,
                    width + a.radius * cos_a + b.radius * cos_b,
                ];
                let (cosines, sines) = (cos_a * cos_b, sin_a * sin_b);
                let at = |x: f64, y: f64| self.kernel((x * x + y * y).sqrt());
                let mut sum = -(cosines + sines) * at(far[0], far[1]);
                if length > 0.0 {
                    sum += (cosines - sines) * at(far[0], near[1]);
                }
                if width > 0.0 {
                    sum -= (cosines - sines) * at(near[0], far[1]);
                }
                sum
            })
        });
        4.0 * a.radius * b.radius * integral
    }
}

impl Turn {
    /// How far from the middle the straights along a way lie.
    fn half_width(self, way: usize) -> f64 {
        0.5 * self.lengths[1 - way] + self.radius
    }
}
