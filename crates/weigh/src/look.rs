//! What a look that has not been made yet can be expected to tell.

/// An amount of information, in bits: one bit settles a question that stood at evens.
#[derive(Debug, Clone, Copy, PartialEq, PartialOrd, Default)]
pub struct Bits(pub f64);

impl Bits {
    /// The bare number.
    pub const fn value(self) -> f64 {
        self.0
    }
}

/// Why a table of shares, or a look, cannot be used.
#[derive(Debug, Clone, Copy, PartialEq, thiserror::Error)]
pub enum LookError {
    /// Rows of differing length, or no rows.
    #[error(
        "the table needs one row for each explanation and one column for each outcome, all of one length"
    )]
    Shape,
    /// An entry that is negative or not a number, or a table of nothing but zeros.
    #[error("the table must hold shares: numbers from 0 up, not all 0")]
    Share,
    /// A look that takes no time, or less.
    #[error("{0} minutes is no trouble for a look; state more than 0, such as 0.5")]
    Minutes(f64),
}

/// Entropy `−Σ p log₂ p` of shares (made to sum to one), in bits (Shannon 1948).
///
/// # Errors
/// [`LookError::Share`].
///
/// ```
/// use asfound_weigh::entropy;
/// let die = entropy(&[1.0; 6])?;
/// assert!((die.value() - 2.584_962_500_721_156).abs() < 1e-15); // log₂ 6
/// # Ok::<(), asfound_weigh::LookError>(())
/// ```
pub fn entropy(shares: &[f64]) -> Result<Bits, LookError> {
    let sum = checked_sum(shares.iter().copied())?;
    Ok(Bits(-shares.iter().map(|share| p_log2_p(share / sum)).sum::<f64>()))
}

/// Mutual information between explanation (rows) and outcome (columns) of a table of joint shares, in bits. Never
/// below 0; 0 for a look whose outcome does not depend on the explanation.
///
/// # Errors
/// [`LookError::Shape`], [`LookError::Share`].
///
/// ```
/// use asfound_weigh::information;
/// // A look that always tells which of two equal explanations is true is worth one bit.
/// assert_eq!(information(&[vec![0.5, 0.0], vec![0.0, 0.5]])?.value(), 1.0);
/// # Ok::<(), asfound_weigh::LookError>(())
/// ```
pub fn information(joint: &[Vec<f64>]) -> Result<Bits, LookError> {
    let columns = joint.first().map_or(0, Vec::len);
    if columns == 0 || joint.iter().any(|row| row.len() != columns) {
        return Err(LookError::Shape);
    }
    let sum = checked_sum(joint.iter().flatten().copied())?;
    let of_rows: Vec<f64> = joint.iter().map(|row| row.iter().sum::<f64>() / sum).collect();
    let of_columns: Vec<f64> =
        (0..columns).map(|column| joint.iter().map(|row| row[column]).sum::<f64>() / sum).collect();
    let mut bits = 0.0;
    for (row, of_row) in joint.iter().zip(&of_rows) {
        for (share, of_column) in row.iter().zip(&of_columns) {
            if *share > 0.0 {
                let share = share / sum;
                bits += share * libm::log2(share / (of_row * of_column));
            }
        }
    }
    Ok(Bits(bits.max(0.0)))
}

/// As [`information`], for a table counted from `draws` equally weighted draws: less the bias that chance alone brings,
/// `(K_hy − K_h − K_y + 1) / (2 n ln 2)` with the numbers of filled cells, rows and columns (Miller 1955). Not below 0.
///
/// # Errors
/// As [`information`].
pub fn information_of_counts(joint: &[Vec<f64>], draws: f64) -> Result<Bits, LookError> {
    let Bits(raw) = information(joint)?;
    let filled = |cells: usize| cells as f64;
    let cells = filled(joint.iter().flatten().filter(|count| **count > 0.0).count());
    let rows = filled(joint.iter().filter(|row| row.iter().any(|count| *count > 0.0)).count());
    let columns = filled((0..joint[0].len()).filter(|c| joint.iter().any(|row| row[*c] > 0.0)).count());
    let bias = (cells - rows - columns + 1.0) / (2.0 * draws * std::f64::consts::LN_2);
    Ok(Bits((raw - bias).max(0.0)))
}

/// A look that could be made next.
#[derive(Debug, Clone, PartialEq)]
pub struct Look<L> {
    /// What is looked at, in whatever form the caller keeps it.
    pub what: L,
    /// What it can be expected to tell.
    pub tells: Bits,
    /// The trouble it takes.
    pub minutes: f64,
}

/// A look with its worth, as [`rank`] orders them.
#[derive(Debug, Clone, PartialEq)]
pub struct Ranked<L> {
    /// The look.
    pub look: Look<L>,
    /// Bits per minute of trouble.
    pub bits_per_minute: f64,
}

/// Looks by bits per minute of trouble, the best first; among equals, the order given.
///
/// # Errors
/// [`LookError::Minutes`] for a look without trouble, [`LookError::Share`] for one whose bits are not a number from 0 up.
pub fn rank<L>(looks: Vec<Look<L>>) -> Result<Vec<Ranked<L>>, LookError> {
    let mut ranked = Vec::with_capacity(looks.len());
    for look in looks {
        if !(look.minutes > 0.0 && look.minutes.is_finite()) {
            return Err(LookError::Minutes(look.minutes));
        }
        if !(look.tells.0 >= 0.0 && look.tells.0.is_finite()) {
            return Err(LookError::Share);
        }
        let bits_per_minute = look.tells.0 / look.minutes;
        ranked.push(Ranked { look, bits_per_minute });
    }
    ranked.sort_by(|a, b| b.bits_per_minute.total_cmp(&a.bits_per_minute));
    Ok(ranked)
}

fn p_log2_p(share: f64) -> f64 {
    if share > 0.0 { share * libm::log2(share) } else { 0.0 }
}

fn checked_sum(shares: impl Iterator<Item = f64>) -> Result<f64, LookError> {
    let mut sum = 0.0;
    for share in shares {
        if !(share >= 0.0 && share.is_finite()) {
            return Err(LookError::Share);
        }
        sum += share;
    }
    if sum > 0.0 && sum.is_finite() { Ok(sum) } else { Err(LookError::Share) }
}
