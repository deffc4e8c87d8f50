//! Small words: lists and counts.

/// `a`, `a and b`, `a, b and c`.
pub(crate) fn and<S: AsRef<str>>(words: &[S]) -> String {
    joined(words, "and")
}

/// `a`, `a or b`, `a, b or c`.
pub(crate) fn or<S: AsRef<str>>(words: &[S]) -> String {
    joined(words, "or")
}

fn joined<S: AsRef<str>>(words: &[S], last: &str) -> String {
    match words {
        [] => String::new(),
        [one] => one.as_ref().to_owned(),
        [first @ .., end] => {
            let first: Vec<&str> = first.iter().map(AsRef::as_ref).collect();
            format!("{} {last} {}", first.join(", "), end.as_ref())
        }
    }
}

/// `one part`, `3 parts`.
pub(crate) fn count(number: usize, one: &str, many: &str) -> String {
    match number {
        0 => format!("no {one}"),
        1 => format!("one {one}"),
        number => format!("{number} {many}"),
    }
}

/// The first letter made a capital.
pub(crate) fn capital(text: &str) -> String {
    let mut signs = text.chars();
    signs.next().map_or_else(String::new, |first| first.to_uppercase().collect::<String>() + signs.as_str())
}
