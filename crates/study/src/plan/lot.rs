//! The terms of a sale, the budget and the values, read from what was said of the lot.

use asfound_plan::estimate::Estimate;
use asfound_plan::fees::{Extra, Import, Online, Premium, SellingTerms, Steps, Tax, Terms, Tier};
use asfound_plan::money::{Currency, Money, Rate, Rounding};
use asfound_plan::risk::{Expected, Margin};
use asfound_plan::value::{Opinion, Says, State};

use super::said::{Clause, Piece, Unread, cut};

/// What was said of a lot. Of one thing the latest stands.
#[derive(Debug, Clone, Default, PartialEq)]
pub struct LotSaid {
    /// The currency of the first sum.
    pub currency: Option<Currency>,
    /// Who pays, as said.
    pub payer: Option<String>,
    /// Whether it is to be kept; `None` where that was not said.
    pub keep: Option<bool>,
    /// All that there is, all in.
    pub budget: Option<Money>,
    /// What the house adds.
    pub premium: Option<Premium>,
    /// The tax of a house whose basis is said.
    pub tax: Option<Tax>,
    /// The rate of a tax whose basis is not said.
    pub tax_rate: Option<Rate>,
    /// For bidding from afar.
    pub online: Option<Online>,
    /// Sums that do not hang on the price.
    pub extras: Vec<Extra>,
    /// Duty at a border.
    pub duty: Option<Rate>,
    /// Tax at a border.
    pub import_tax: Option<Rate>,
    /// The bids that the room takes.
    pub steps: Vec<(Money, Money)>,
    /// What must remain for the trouble.
    pub margin: Option<Margin>,
    /// What a house takes from the seller, and the tax on it.
    pub commission: Option<(Rate, Rate)>,
    /// The chance of loss that is accepted.
    pub loss: Option<Rate>,
    /// Work, where it is said as a sum.
    pub work: Option<Expected>,
    /// What is said of the value.
    pub opinions: Vec<Opinion>,
    /// Like pieces that were sold.
    pub comparables: Vec<Comparable>,
    /// The entries that were read.
    pub rests_on: Vec<u64>,
    /// What could not be read.
    pub unread: Vec<Unread>,
}

/// A like piece that was sold.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Comparable {
    /// The entry.
    pub seq: u64,
    /// For how much.
    pub price: Money,
    /// When, where, in which state, as said.
    pub words: String,
}

const EXAMPLES: &str = "say one thing to a clause, for instance premium 25 %, tax 20 % on the premium, carriage 180 GBP, \
                        bid step 100, budget 5000 GBP, to keep";

/// Reads all that was said of the lot, by entry.
pub(super) fn read<'a>(said: impl Iterator<Item = (u64, &'a str)>) -> LotSaid {
    let clauses: Vec<Clause> = said.flat_map(|(seq, words)| cut(seq, words)).collect();
    let currency = clauses.iter().flat_map(|clause| &clause.pieces).find_map(|piece| match piece {
        Piece::Currency(currency) => Some(*currency),
        _ => None,
    });
    let mut lot = LotSaid { currency, ..LotSaid::default() };
    for clause in &clauses {
        if lot.rests_on.last() != Some(&clause.seq) {
            lot.rests_on.push(clause.seq);
        }
        if let Err(unread) = lot.take(clause)
            && !lot.more_of_a_comparable(clause)
        {
            lot.unread.push(unread);
        }
    }
    lot
}

impl LotSaid {
    /// Takes one clause in.
    fn take(&mut self, clause: &Clause) -> Result<(), Unread> {
        let begins = |words| clause.begins(words);
        if begins("premium") {
            self.premium = Some(premium(clause, self.currency)?);
        } else if begins("tax") || begins("no tax") || begins("vat") || begins("sales tax") {
            self.take_tax(clause)?;
        } else if begins("online") {
            let rate = first_rate(clause)?;
            self.online = Some(Online { rate, tax: tax_beside(clause) });
        } else if begins("duty") {
            self.duty = Some(first_rate(clause)?);
        } else if begins("import tax") {
            self.import_tax = Some(first_rate(clause)?);
        } else if begins("bid step") || begins("step") {
            self.steps.extend(steps(clause, self.currency)?);
        } else if begins("budget") || begins("limit") {
            self.budget = Some(one_sum(clause, self.currency)?);
        } else if begins("to keep") {
            self.keep = Some(true);
        } else if begins("to sell") {
            self.keep = Some(false);
        } else if clause.has("pays") {
            self.payer = Some(clause.text.clone());
        } else {
            self.take_sale(clause)?;
        }
        Ok(())
    }

    /// What is said behind a piece that was sold, in the same entry, tells of it.
    fn more_of_a_comparable(&mut self, clause: &Clause) -> bool {
        let last = self.comparables.last_mut().filter(|last| last.seq == clause.seq);
        if let Some(last) = last {
            last.words = format!("{}, {}", last.words, clause.text);
            return true;
        }
        false
    }

    /// What bears on a sale afterwards, and sums that stand for themselves.
    fn take_sale(&mut self, clause: &Clause) -> Result<(), Unread> {
        let begins = |words| clause.begins(words);
        if begins("margin") {
            self.margin = Some(match clause.rates().first() {
                Some(rate) => Margin::OfPrice(rate.clone()),
                None => Margin::Sum(one_sum(clause, self.currency)?),
            });
        } else if begins("commission") {
            self.commission = Some((first_rate(clause)?, tax_beside(clause)));
        } else if begins("chance of loss") || begins("loss") {
            self.loss = Some(first_rate(clause)?);
        } else if begins("work") {
            self.work = Some(expected("work", clause, self.currency)?);
        } else if begins("value") {
            self.opinions.push(opinion(clause, self.currency)?);
        } else if begins("comparable") {
            let price = one_sum(clause, self.currency)?;
            self.comparables.push(Comparable { seq: clause.seq, price, words: clause.text.clone() });
        } else {
            let extra = extra(clause, self.currency)?;
            self.extras.retain(|known| known.what != extra.what);
            self.extras.push(extra);
        }
        Ok(())
    }

    fn take_tax(&mut self, clause: &Clause) -> Result<(), Unread> {
        if clause.has("no") || clause.has("none") {
            self.tax = Some(Tax::None);
            return Ok(());
        }
        let rate = first_rate(clause)?;
        let has = |word| clause.has(word);
        self.tax_rate = Some(rate.clone());
        self.tax = if has("all") || has("everything") || has("hammer") {
            Some(Tax::OnAll(rate))
        } else if has("premium") && (has("inside") || has("in") || has("included")) {
            Some(Tax::InPremium(rate))
        } else if has("premium") {
            Some(Tax::OnPremium(rate))
        } else {
            None
        };
        Ok(())
    }
}

fn first_rate(clause: &Clause) -> Result<Rate, Unread> {
    let rate = clause.rates().into_iter().next();
    rate.ok_or_else(|| clause.unread("a rate in per cent is wanted here, for instance 25 %"))
}

/// The tax on a line: a second rate, or the rate of a line that is a sum.
fn tax_beside(clause: &Clause) -> Rate {
    clause.rates().into_iter().nth(1).unwrap_or_else(Rate::nothing)
}

fn one_sum(clause: &Clause, currency: Option<Currency>) -> Result<Money, Unread> {
    let sums = clause.sums(currency)?;
    let first = sums.into_iter().next();
    first.ok_or_else(|| clause.unread("a sum is wanted here, for instance 5000 GBP"))
}

/// `premium 25 %`, `premium 26 % to 10000 then 20 % to 50000 then 14 %`, and with `on all of it` whole bands.
fn premium(clause: &Clause, currency: Option<Currency>) -> Result<Premium, Unread> {
    let rates = clause.rates();
    let [rate, ..] = rates.as_slice() else { return first_rate(clause).map(Premium::Flat) };
    let ends = clause.sums(currency)?;
    if ends.is_empty() && rates.len() == 1 {
        return Ok(Premium::Flat(rate.clone()));
    }
    if rates.len() != ends.len() + 1 {
        return Err(clause.unread(
            "each rate but the last needs the price it ends at, for instance premium 26 % to 10000 GBP then 20 %",
        ));
    }
    let ends = ends.into_iter().map(Some).chain([None]);
    let tiers = rates.into_iter().zip(ends).map(|(rate, up_to)| Tier { up_to, rate }).collect();
    Ok(if clause.has("all") || clause.has("whole") {
        Premium::WholeBand(tiers)
    } else {
        Premium::Tiered(tiers)
    })
}

/// `bid step 100`, `bid step 10 then 50 from 500`.
fn steps(clause: &Clause, currency: Option<Currency>) -> Result<Vec<(Money, Money)>, Unread> {
    let sums = clause.sums(currency)?;
    let fail = || {
        clause.unread("say each step and the price it begins at, for instance bid step 10 then 50 from 500")
    };
    let [first, more @ ..] = sums.as_slice() else { return Err(fail()) };
    if more.len() % 2 != 0 {
        return Err(fail());
    }
    let begins_at_nothing = (Money::nothing(first.currency()), *first);
    Ok([begins_at_nothing].into_iter().chain(more.chunks(2).map(|pair| (pair[1], pair[0]))).collect())
}

/// A sum in whole units of its currency, for figures that are only reckoned with.
pub(super) fn units(sum: Money) -> f64 {
    (0..sum.currency().minor_digits()).fold(sum.minor() as f64, |units, _| units / 10.0)
}

/// A sum that is not known: one figure, a range, or three that rise.
pub(super) fn expected(what: &str, clause: &Clause, currency: Option<Currency>) -> Result<Expected, Unread> {
    let sums = clause.sums(currency)?;
    let figures: Vec<f64> = sums.iter().map(|sum| units(*sum)).collect();
    let figure = match figures.as_slice() {
        [only] => Estimate::certain(*only),
        [low, high] => Estimate::between(*low, *high),
        [low, likely, high] => Estimate::pert(*low, *likely, *high),
        _ => {
            return Err(
                clause.unread("say one sum, a range or three that rise, for instance 400 to 1200 GBP")
            );
        }
    };
    let figure = figure.map_err(|fault| clause.unread(fault))?;
    Ok(Expected::new(what, sums[0].currency(), figure))
}

/// `value restored 50 % to 67 % of original by a restorer’s rule (letter of 3 May)`.
fn opinion(clause: &Clause, currency: Option<Currency>) -> Result<Opinion, Unread> {
    let state = if clause.has("restored") {
        State::Restored
    } else if clause.has("found") || clause.has("stands") {
        State::AsFound
    } else if clause.begins("value original") || clause.begins("value fully original") {
        State::FullyOriginal
    } else {
        return Err(clause
            .unread("of which state is not said; write value as found, value restored or value original"));
    };
    // Figures behind the word `by` belong to whose word it is.
    let by = clause.behind("by").unwrap_or_default();
    let figures = clause.text.split(" by ").next().unwrap_or_default();
    let figures = Clause { text: figures.to_owned(), ..cut(clause.seq, figures).remove(0) };
    let up_to = figures.has("up") || figures.has("most");
    let (rates, sums) = (figures.rates(), figures.sums(currency)?);
    let says = match (rates.as_slice(), sums.as_slice()) {
        ([only], []) => Says::Share { low: (!up_to).then(|| only.clone()), high: only.clone() },
        ([low, high], []) => Says::Share { low: Some(low.clone()), high: high.clone() },
        ([], [only]) => Says::Sum { low: (!up_to).then_some(*only), high: *only },
        ([], [low, high]) => Says::Sum { low: Some(*low), high: *high },
        _ => {
            return Err(
                clause.unread("say a range, for instance 4000 to 5500 GBP or 50 % to 67 % of original")
            );
        }
    };
    if by.is_empty() {
        return Err(clause.unread(
            "whose word it is is missing; write it behind by, for instance by three sales this year",
        ));
    }
    let (whose, source) = match by.split_once('(') {
        Some((whose, source)) => (whose.trim(), source.trim_end_matches(')').trim().to_owned()),
        None => (by, format!("entry {}", clause.seq)),
    };
    Ok(Opinion { state, says, whose: whose.to_owned(), source })
}

/// `carriage 180 GBP before the border plus 20 % tax`.
fn extra(clause: &Clause, currency: Option<Currency>) -> Result<Extra, Unread> {
    let words = clause.pieces.iter().map_while(|piece| match piece {
        Piece::Word(word) => Some(word.as_str()),
        _ => None,
    });
    let what = words.collect::<Vec<_>>().join(" ");
    let sums = clause.sums(currency)?;
    let ([amount], false) = (sums.as_slice(), what.is_empty()) else { return Err(clause.unread(EXAMPLES)) };
    let tax = clause.rates().into_iter().next().unwrap_or_else(Rate::nothing);
    Ok(Extra { what, amount: *amount, tax, before_border: clause.has("border") })
}

impl LotSaid {
    /// The terms as far as they are said; `None` while the premium or the currency is not.
    pub(super) fn terms(&self) -> Option<Terms> {
        let mut terms = Terms::new(self.currency?, self.premium.clone()?);
        terms.tax.clone_from(&self.tax);
        terms.online.clone_from(&self.online);
        terms.extras.clone_from(&self.extras);
        let at_border = self.duty.is_some() || self.import_tax.is_some();
        let rate = |rate: &Option<Rate>| rate.clone().unwrap_or_else(Rate::nothing);
        terms.import = at_border.then(|| Import { duty: rate(&self.duty), tax: rate(&self.import_tax) });
        Some(terms)
    }

    /// The bids that the room takes; whole minor units where no step is said, so that the limit itself shows.
    pub(super) fn bid_steps(&self, currency: Currency) -> Result<Steps, asfound_plan::fees::FeeFault> {
        if self.steps.is_empty() {
            return Steps::even(Money::of_minor(1, currency)?);
        }
        Steps::rising(&self.steps)
    }

    /// What a house takes from the seller.
    pub(super) fn selling(&self, currency: Currency) -> Option<SellingTerms> {
        let (commission, tax) = self.commission.clone()?;
        let rounding = Rounding::HalfAwayFromZero;
        Some(SellingTerms { currency, commission, tax, extras: Vec::new(), rounding })
    }
}
