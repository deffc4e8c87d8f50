//! Inductance in air, against published tables, worked examples and independent sums.

use asfound_electric::bobbin::{Bobbin, Former, Turns};
use asfound_electric::inductance::AirCore;
use asfound_measure::Millimetres;

fn henries(former: Former, height: f64, depth: f64, turns: f64) -> f64 {
    let bobbin = Bobbin::new(former, Millimetres(height)).expect("a bobbin");
    let table = AirCore::tabulate(&bobbin, Millimetres(depth * 1.3)).expect("a table");
    table.inductance(Millimetres(depth), Turns(turns)).expect("inside the table").value()
}

#[test]
fn scratch() {
    let inch = 25.4;
    for (a, b, c, n, want) in [
        (1.0, 1.0, 1.0, 1000.0, 32.16662e-3),
        (0.5, 0.5, 0.25, 500.0, 5.01379e-3),
        (1.0, 0.5, 0.2, 1000.0, 62.55896e-3),
        (2.0, 1.0, 0.5, 100.0, 1.20802e-3),
    ] {
        let former = Former::Circular { radius: Millimetres((a - c / 2.0) * inch) };
        let l = henries(former, b * inch, c * inch, n);
        println!("{a} {b} {c}: {l:.8e} {:.2e}", l / want - 1.0);
    }
    let brooks = henries(Former::Circular { radius: Millimetres(1000.0) }, 1000.0, 1000.0, 1.0) / 1.5;
    println!("brooks {brooks:.8e}");
    for (s, r, h, t, n, want) in [
        (60.0, 5.0, 10.0, 5.0, 1000.0, 47.5377e-3),
        (52.4, 2.48, 11.0, 5.1, 8105.0, 1.8453),
        (49.0, 3.8, 6.4, 6.4, 5000.0, 1.0478),
    ] {
        let former = Former::Obround { straight: Millimetres(s), end_radius: Millimetres(r) };
        let l = henries(former, h, t, n);
        println!("{s}: {l:.8} {:.2e}", l / want - 1.0);
        let t0 = std::time::Instant::now();
        let bobbin = Bobbin::new(former, Millimetres(h)).expect("a bobbin");
        let table = AirCore::tabulate(&bobbin, Millimetres(8.0)).expect("a table");
        println!("{:?} {:?}", t0.elapsed(), table.inductance(Millimetres(0.0), Turns(1.0)));
    }
}
