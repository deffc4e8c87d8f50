//! Dense complex linear equations, with room that is used again for every frequency.

use crate::complex::Complex;

/// A square matrix and its factors. The rows lie `stride` apart; row and column `size` are spare room, where
/// the datum of an island may be written without asking whether it is one.
#[derive(Debug, Clone, Default)]
pub(crate) struct Linear {
    size: usize,
    stride: usize,
    cells: Vec<Complex>,
    pivots: Vec<Complex>,
    swaps: Vec<usize>,
}

impl Linear {
    pub(crate) fn new(size: usize) -> Self {
        let stride = size + 1;
        Self {
            size,
            stride,
            cells: vec![Complex::ZERO; stride * stride],
            pivots: vec![Complex::ZERO; size],
            swaps: vec![0; size],
        }
    }

    /// All cells, row by row, `size + 1` to a row.
    pub(crate) fn cells(&mut self) -> &mut [Complex] {
        &mut self.cells
    }

    pub(crate) fn add(&mut self, row: usize, column: usize, value: Complex) {
        self.cells[row * self.stride + column] += value;
    }

    /// Factors the matrix in place with partial pivoting; false when it is singular.
    ///
    /// Multipliers of nought are passed over, because a circuit's matrix is mostly empty.
    pub(crate) fn factor(&mut self) -> bool {
        let (size, stride) = (self.size, self.stride);
        for step in 0..size {
            let (mut best, mut largest) = (step, -1.0);
            for row in step..size {
                let candidate = self.cells[row * stride + step].size();
                if candidate > largest {
                    (best, largest) = (row, candidate);
                }
            }
            if !(largest > 0.0 && largest.is_finite()) {
                return false;
            }
            self.swaps[step] = best;
            if best != step {
                for column in 0..size {
                    self.cells.swap(best * stride + column, step * stride + column);
                }
            }
            let pivot = self.cells[step * stride + step].reciprocal();
            self.pivots[step] = pivot;
            let (above, below) = self.cells.split_at_mut((step + 1) * stride);
            let pivot_row = &above[step * stride + step + 1..step * stride + size];
            for row in below.chunks_exact_mut(stride).take(size - step - 1) {
                if row[step] == Complex::ZERO {
                    continue;
                }
                let multiplier = row[step] * pivot;
                row[step] = multiplier;
                for (cell, &above) in row[step + 1..size].iter_mut().zip(pivot_row) {
                    *cell -= multiplier * above;
                }
            }
        }
        true
    }

    /// Solves for one right side, in place, after [`Linear::factor`]. Cells past `size` are left alone.
    pub(crate) fn solve(&self, side: &mut [Complex]) {
        let (size, stride) = (self.size, self.stride);
        for step in 0..size {
            side.swap(step, self.swaps[step]);
        }
        for row in 1..size {
            let (known, rest) = side.split_at_mut(row);
            for (&cell, &value) in self.cells[row * stride..row * stride + row].iter().zip(known.iter()) {
                rest[0] -= cell * value;
            }
        }
        for row in (0..size).rev() {
            let (known, rest) = side.split_at_mut(row + 1);
            for (&cell, &value) in
                self.cells[row * stride + row + 1..row * stride + size].iter().zip(rest.iter())
            {
                known[row] -= cell * value;
            }
            known[row] = known[row] * self.pivots[row];
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn solves_a_system_that_needs_its_rows_exchanged() {
        // 2y = 4j, 3x + y = 3 + 2j: the first pivot is nought.
        let mut linear = Linear::new(2);
        for (row, column, value) in [(0, 1, 2.0), (1, 0, 3.0), (1, 1, 1.0)] {
            linear.add(row, column, Complex::real(value));
        }
        assert!(linear.factor());
        let mut side = [Complex::imaginary(4.0), Complex::new(3.0, 2.0)];
        linear.solve(&mut side);
        assert_eq!(side, [Complex::ONE, Complex::imaginary(2.0)]);
    }

    #[test]
    fn says_when_a_matrix_is_singular() {
        let mut linear = Linear::new(2);
        for cell in [(0, 0), (0, 1), (1, 0), (1, 1)] {
            linear.add(cell.0, cell.1, Complex::ONE);
        }
        assert!(!linear.factor());
    }

    #[test]
    fn a_large_system_leaves_a_small_residual() {
        // A fixed pseudo-random matrix; the residual of a backward stable solve is a few hundred roundings
        // here.
        let size = 90;
        let mut state = 1_u64;
        let mut draw = || {
            state = state.wrapping_mul(6_364_136_223_846_793_005).wrapping_add(1_442_695_040_888_963_407);
            (state >> 11) as f64 / (1_u64 << 53) as f64 - 0.5
        };
        let mut linear = Linear::new(size);
        for row in 0..size {
            for column in 0..size {
                linear.add(row, column, Complex::new(draw(), draw()));
            }
        }
        let matrix = linear.cells().to_vec();
        let side: Vec<Complex> = (0..size).map(|_| Complex::new(draw(), draw())).collect();
        let mut answer = side.clone();
        assert!(linear.factor());
        linear.solve(&mut answer);
        for row in 0..size {
            let mut sum = Complex::ZERO;
            for column in 0..size {
                sum += matrix[row * (size + 1) + column] * answer[column];
            }
            assert!((sum - side[row]).abs() < 1e-11);
        }
    }
}
