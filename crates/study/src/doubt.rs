//! Doubts about a line that is kept as it was typed.

use asfound_measure::{
    Question, Why, WhyInductance, WhyTemperature, Written, question_coil_inductance,
    question_coil_resistance, question_temperature,
};

/// What is odd about a reading of a coil, or a name.
#[derive(Debug, Clone, PartialEq, Eq)]
pub enum Doubt {
    /// Its ohms.
    Ohms(Question<Why>),
    /// Its henries.
    Henries(Question<WhyInductance>),
    /// How warm it is said to have been.
    Temperature(Question<WhyTemperature>),
    /// A lug or part that the traced circuit does not have.
    NotTraced {
        /// The lug that is spelt most like it.
        likely: Option<String>,
    },
}

impl Doubt {
    /// What was most likely meant, where the unit seems to have slipped.
    pub fn likely(&self) -> Option<&str> {
        match self {
            Doubt::Ohms(question) => question.likely.as_deref(),
            Doubt::Henries(question) => question.likely.as_deref(),
            Doubt::Temperature(question) => question.likely.as_deref(),
            Doubt::NotTraced { likely } => likely.as_deref(),
        }
    }
}

/// Doubts the figure shown by a meter at a coil. A quantity is named as a reading's is kept.
pub fn of_figure(quantity: &str, written: &Written) -> Option<Doubt> {
    match quantity.split(" at ").next().unwrap_or_default() {
        "resistance" => question_coil_resistance(written).map(Doubt::Ohms),
        "inductance" => question_coil_inductance(written).map(Doubt::Henries),
        _ => None,
    }
}

/// Doubts the temperature that was said with a reading.
pub fn of_temperature(written: &Written) -> Option<Doubt> {
    question_temperature(written).map(Doubt::Temperature)
}
