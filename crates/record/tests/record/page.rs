#[test]
fn emit() {
    println!("@@{}@@", crate::sample::file());
}
