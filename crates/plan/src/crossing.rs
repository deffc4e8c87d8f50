//! What is asked before a bid when a listed wood would cross a border or be offered for sale.
//!
//! The time to learn that a board needs a permit is before the bid. What is listed here are facts with their day, and
//! the appendices change every few years: each answer ends in asking the management authority of both countries. It is
//! no legal advice, and it never says that something may be done.
//!
//! Where the wood is not known, every wood it may be is gone through, and an answer says whether it holds for all of
//! them ([`Asked::whatever_it_is`]).
//!
//! Sources: Convention on International Trade in Endangered Species of Wild Fauna and Flora (CITES), articles III to V
//! (permits) and VII (specimens from before the convention applied), and its appendices:
//! - *Dalbergia nigra*, Appendix I since 11 June 1992 (8th conference of the parties);
//! - the other *Dalbergia* species, Appendix II since 2 January 2017 (17th conference, proposal 55); finished musical
//!   instruments, their parts and accessories exempt since 26 November 2019 (annotation #15 as revised at the 18th
//!   conference), for *Dalbergia cochinchinensis* under an annotation of its own, without that exemption;
//! - Council Regulation (EC) No 338/97, article 8: specimens of its Annex A, where Appendix I stands, are not bought,
//!   offered or sold in the European Union without an exemption; the United Kingdom kept the rule.
//!
//! ```
//! use asfound_plan::crossing::{What, Trade, Wood, before_the_bid};
//! let buyer_abroad = Trade { crosses_a_border: true, offered_in_the_eu_or_uk: false };
//! let asked = before_the_bid(&[Wood::DalbergiaNigra, Wood::OtherDalbergia], buyer_abroad);
//! assert!(asked.iter().any(|asked| asked.what == What::Species && asked.whatever_it_is));
//! assert!(asked.iter().any(|asked| asked.what == What::Permit && !asked.whatever_it_is));
//! ```

/// A wood, as far as the appendices tell woods apart.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum Wood {
    /// Brazilian rosewood, *Dalbergia nigra*.
    DalbergiaNigra,
    /// *Dalbergia cochinchinensis*.
    DalbergiaCochinchinensis,
    /// Any other rosewood of the genus *Dalbergia*.
    OtherDalbergia,
    /// A wood that is not of that genus. Others may be listed too.
    Other,
}

/// What is to be done with the piece.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Trade {
    /// It goes to another country, or a part of it comes from one.
    pub crosses_a_border: bool,
    /// It is advertised, sold or bought in the European Union or the United Kingdom.
    pub offered_in_the_eu_or_uk: bool,
}

/// What is to be had or asked before the bid.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum What {
    /// Evidence of the species, where what is asked hangs on it: a wood anatomist, or the maker's papers.
    Species,
    /// Papers for the border, from both management authorities; the cost and the weeks are theirs to say, and belong in
    /// the bill and in the plan.
    Permit,
    /// A certificate before it is even advertised.
    CertificateToSell,
    /// Proof of when the wood was taken or the piece made, or how it was acquired.
    ProofOfDate,
    /// The management authority, for the rules of the day: nothing that is known here asks for papers.
    RulesOfTheDay,
}

/// Something to have before the bid.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Asked {
    /// What.
    pub what: What,
    /// For each of the woods it may be; else only for some of them.
    pub whatever_it_is: bool,
}

/// What to have or ask before bidding on a piece whose wood is one of these. Nothing where it neither crosses a border
/// nor is offered where a certificate is asked, or where no wood is named.
pub fn before_the_bid(woods: &[Wood], trade: Trade) -> Vec<Asked> {
    let each: Vec<Vec<What>> = woods.iter().map(|wood| of_one(*wood, trade)).collect();
    let mut all: Vec<What> = each.iter().flatten().copied().collect();
    all.sort_unstable();
    all.dedup();
    let holds_for_each = |what: &What| each.iter().all(|asked| asked.contains(what));
    let mut asked: Vec<Asked> =
        all.into_iter().map(|what| Asked { what, whatever_it_is: holds_for_each(&what) }).collect();
    if asked.iter().any(|asked| !asked.whatever_it_is) {
        asked.insert(0, Asked { what: What::Species, whatever_it_is: true });
    }
    asked
}

fn of_one(wood: Wood, trade: Trade) -> Vec<What> {
    let Trade { crosses_a_border, offered_in_the_eu_or_uk } = trade;
    match wood {
        Wood::DalbergiaNigra => {
            let mut asked = Vec::new();
            if crosses_a_border {
                asked.push(What::Permit);
            }
            if offered_in_the_eu_or_uk {
                asked.push(What::CertificateToSell);
            }
            if !asked.is_empty() {
                asked.push(What::ProofOfDate);
            }
            asked
        }
        Wood::DalbergiaCochinchinensis if crosses_a_border => vec![What::Permit, What::ProofOfDate],
        Wood::OtherDalbergia | Wood::Other if crosses_a_border => vec![What::RulesOfTheDay],
        Wood::DalbergiaCochinchinensis | Wood::OtherDalbergia | Wood::Other => Vec::new(),
    }
}
