use crate::money::{Currency, Money, MoneyFault, Rate};

/// What cannot be in terms, a limit or a bid step.
#[derive(Debug, Clone, PartialEq, Eq, thiserror::Error)]
pub enum FeeFault {
    /// A rate below 0 or above the whole.
    #[error("{place}: {read} cannot be; a rate lies between 0 % and 100 %, for instance 25 %")]
    Rate {
        /// Where in the terms.
        place: String,
        /// What was read.
        read: Rate,
    },
    /// Tiers that do not rise.
    #[error(
        "{place}: it ends at {read}, which is not above the end of the tier before it, {before}; put the tiers in \
         rising order"
    )]
    TierOrder {
        /// Which tier.
        place: String,
        /// Its end.
        read: Money,
        /// Where the tier before it ends, or 0.
        before: Money,
    },
    /// A tier without an end that is not the last, or a last one with an end.
    #[error(
        "{place}: every tier but the last needs the price it ends at, and the last has none; say where it ends"
    )]
    TierEnd {
        /// Which tier.
        place: String,
    },
    /// A sum below 0.
    #[error("{place}: {read} is below nothing; write the sum that is paid, or leave the line out")]
    Below {
        /// Which line.
        place: String,
        /// What was read.
        read: Money,
    },
    /// A sum in another currency than the rest.
    #[error(
        "{place}: {read} stands among sums in {wanted}; turn it into {wanted} first, at a rate with its day and source"
    )]
    Currency {
        /// Which line.
        place: String,
        /// What was read.
        read: Money,
        /// The currency of the rest.
        wanted: Currency,
    },
    /// It is not said what the tax is charged on.
    #[error(
        "tax: the terms do not say whether it is charged on the premium only, on hammer price and premium, or is inside \
         the premium; ask the house, and until then keep to the lowest of the three ceilings"
    )]
    TaxBasis,
    /// Bid steps that are none.
    #[error(
        "{place}: a step of {read} cannot be bid; steps are above 0 and begin at a price of 0, for instance 50.00"
    )]
    Step {
        /// Which step.
        place: String,
        /// What was read.
        read: Money,
    },
    /// No bid step at all.
    #[error("bid step: none is given; say by how much the room goes up, for instance by 50.00")]
    NoStep,
    /// The limit does not even pay the lowest bid.
    #[error(
        "limit: {limit} is below what the lowest bid of {lowest_bid} comes to with its fees, {lowest_cost}; raise the \
         limit or let the lot go"
    )]
    LimitBelowFees {
        /// The limit.
        limit: Money,
        /// The lowest bid.
        lowest_bid: Money,
        /// What it costs all in.
        lowest_cost: Money,
    },
    /// A sum that cannot be kept.
    #[error(transparent)]
    Money(#[from] MoneyFault),
}

/// A rate must be a share of the whole.
pub(crate) fn checked_rate(place: &str, rate: &Rate) -> Result<(), FeeFault> {
    if rate.is_share() { Ok(()) } else { Err(FeeFault::Rate { place: place.to_owned(), read: rate.clone() }) }
}

/// A sum must be in the sale's currency and not below 0.
pub(crate) fn checked_sum(place: &str, sum: Money, wanted: Currency) -> Result<(), FeeFault> {
    if sum.currency() != wanted {
        return Err(FeeFault::Currency { place: place.to_owned(), read: sum, wanted });
    }
    if sum.minor() < 0 {
        return Err(FeeFault::Below { place: place.to_owned(), read: sum });
    }
    Ok(())
}
