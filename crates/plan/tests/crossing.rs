//! Papers for listed woods, against the appendices of the convention on trade in endangered species as the page of
//! `crossing` cites them.

use asfound_plan::crossing::{Asked, Trade, What, Wood, before_the_bid};

const ABROAD: Trade = Trade { crosses_a_border: true, offered_in_the_eu_or_uk: false };
const SOLD_HERE: Trade = Trade { crosses_a_border: false, offered_in_the_eu_or_uk: true };
const BOTH: Trade = Trade { crosses_a_border: true, offered_in_the_eu_or_uk: true };
const NEITHER: Trade = Trade { crosses_a_border: false, offered_in_the_eu_or_uk: false };

fn surely(woods: &[Wood], trade: Trade) -> Vec<What> {
    before_the_bid(woods, trade)
        .into_iter()
        .filter(|asked| asked.whatever_it_is)
        .map(|asked| asked.what)
        .collect()
}

/// A board described as Brazilian rosewood, and a buyer in another country.
#[test]
fn a_dark_board_and_a_buyer_abroad() {
    let nigra = [Wood::DalbergiaNigra];
    assert_eq!(surely(&nigra, BOTH), [What::Permit, What::CertificateToSell, What::ProofOfDate]);
    assert_eq!(surely(&nigra, ABROAD), [What::Permit, What::ProofOfDate]);
    assert_eq!(surely(&nigra, SOLD_HERE), [What::CertificateToSell, What::ProofOfDate]);
    assert_eq!(surely(&nigra, NEITHER), []);
}

/// Finished instruments of other rosewoods are exempt since 26 November 2019, but for one species.
#[test]
fn other_rosewoods() {
    assert_eq!(surely(&[Wood::OtherDalbergia], BOTH), [What::RulesOfTheDay]);
    assert_eq!(surely(&[Wood::OtherDalbergia], SOLD_HERE), []);
    assert_eq!(surely(&[Wood::DalbergiaCochinchinensis], ABROAD), [What::Permit, What::ProofOfDate]);
}

/// A dark board of a wood that nobody has named: the species is asked first, the rest hangs on it.
#[test]
fn where_the_species_is_not_known_it_is_asked_first() {
    let woods = [Wood::DalbergiaNigra, Wood::OtherDalbergia, Wood::Other];
    let asked = before_the_bid(&woods, BOTH);
    assert_eq!(asked[0], Asked { what: What::Species, whatever_it_is: true });
    assert!(asked[1..].iter().all(|asked| !asked.whatever_it_is));
    assert!(asked.iter().any(|asked| asked.what == What::CertificateToSell));
    // Where nothing is asked of any of them, the species need not be known.
    assert_eq!(before_the_bid(&woods, NEITHER), []);
    assert_eq!(before_the_bid(&[], BOTH), []);
}
