//! The hues of the map, as eyes without one kind of cone see them, after Viénot, Brettel and Mollon, "Digital video
//! colourmaps for checking the legibility of displays by dichromats", Color Research and Application 24 (1999), 243–252.

use crate::drawing::COLOURS;

type Triple = [f64; 3];

/// From linear red, green and blue to the cones for long, middle and short waves: their equation for a usual screen.
const TO_CONES: [Triple; 3] =
    [[17.8824, 43.5161, 4.11935], [3.45565, 27.1554, 3.86714], [0.029_956_6, 0.184_309, 1.46709]];
/// What a missing cone is taken to say, from what the others say.
const WITHOUT_LONG: Triple = [0.0, 2.02344, -2.52581];
const WITHOUT_MIDDLE: Triple = [0.494_207, 0.0, 1.24827];
/// From linear red, green and blue (IEC 61966-2-1) to X, Y and Z, and the white of that screen.
const TO_XYZ: [Triple; 3] = [
    [0.412_456_4, 0.357_576_1, 0.180_437_5],
    [0.212_672_9, 0.715_152_2, 0.072_175_0],
    [0.019_333_9, 0.119_192_0, 0.950_304_1],
];
const WHITE: Triple = [0.95047, 1.0, 1.08883];

fn dot(row: &Triple, of: &Triple) -> f64 {
    row.iter().zip(of).map(|(one, other)| one * other).sum()
}

fn times(matrix: &[Triple; 3], of: &Triple) -> Triple {
    std::array::from_fn(|row| dot(&matrix[row], of))
}

fn cross(a: &Triple, b: &Triple) -> Triple {
    [a[1] * b[2] - a[2] * b[1], a[2] * b[0] - a[0] * b[2], a[0] * b[1] - a[1] * b[0]]
}

fn inverse([a, b, c]: &[Triple; 3]) -> [Triple; 3] {
    let columns = [cross(b, c), cross(c, a), cross(a, b)];
    let whole = dot(a, &columns[0]);
    std::array::from_fn(|row| std::array::from_fn(|column| columns[column][row] / whole))
}

fn linear(hex: &str) -> Triple {
    std::array::from_fn(|part| {
        let value = f64::from(u8::from_str_radix(&hex[2 * part..2 * part + 2], 16).unwrap()) / 255.0;
        if value > 0.04045 { ((value + 0.055) / 1.055).powf(2.4) } else { value / 12.92 }
    })
}

/// As a trichromat sees it, without the cone for long waves, and without that for middle waves.
fn seen(hex: &str) -> [Triple; 3] {
    let own = linear(hex);
    let cones = times(&TO_CONES, &own);
    let back = |cones: Triple| times(&inverse(&TO_CONES), &cones).map(|part| part.clamp(0.0, 1.0));
    let without_long = back([dot(&WITHOUT_LONG, &cones), cones[1], cones[2]]);
    let without_middle = back([cones[0], dot(&WITHOUT_MIDDLE, &cones), cones[2]]);
    [own, without_long, without_middle]
}

/// CIE 1976 L*a*b*.
fn lab(rgb: &Triple) -> Triple {
    let xyz = times(&TO_XYZ, rgb);
    let part = |number: usize| {
        let share = xyz[number] / WHITE[number];
        if share > 216.0 / 24389.0 { share.cbrt() } else { (24389.0 / 27.0 * share + 16.0) / 116.0 }
    };
    [116.0 * part(1) - 16.0, 500.0 * (part(0) - part(1)), 200.0 * (part(1) - part(2))]
}

fn apart(one: &Triple, other: &Triple) -> f64 {
    let (one, other) = (lab(one), lab(other));
    one.iter().zip(other).map(|(one, other)| (one - other).powi(2)).sum::<f64>().sqrt()
}

/// WCAG 2.2, contrast ratio.
fn contrast(one: &str, other: &str) -> f64 {
    let light = |hex: &str| times(&TO_XYZ, &linear(hex))[1] + 0.05;
    let (one, other) = (light(one), light(other));
    one.max(other) / one.min(other)
}

/// A colour of the light or the dark sheet.
fn colour(sheet: &str, name: &str) -> String {
    let (_, rest) = sheet.split_once(&format!("--{name}: #")).unwrap();
    rest[..6].to_owned()
}

#[test]
fn hues_of_the_map_differ_for_every_eye_and_stand_out_from_the_water() {
    let (light, dark) = COLOURS.split_once("@media screen").unwrap();
    for (which, sheet) in [("light", light), ("dark", dark)] {
        let names = ["closed", "restricted", "idle", "way", "ink"];
        for (place, one) in names.iter().enumerate() {
            let own = colour(sheet, one);
            for ground in ["sea", "paper"] {
                let ratio = contrast(&own, &colour(sheet, ground));
                assert!(ratio >= 3.0, "{which}: {one} on {ground}: {ratio:.1}");
            }
            for other in &names[place + 1..] {
                for (eye, (a, b)) in seen(&own).iter().zip(&seen(&colour(sheet, other))).enumerate() {
                    let apart = apart(a, b);
                    assert!(apart >= 15.0, "{which}, eye {eye}: {one} and {other} are {apart:.1} apart");
                }
            }
        }
    }
}

#[test]
fn the_simulation_keeps_greys_and_confuses_what_dichromats_confuse() {
    // greys look alike to all eyes; a red and a green of one lightness come close without the middle cone
    for view in seen("808080") {
        assert!(apart(&view, &linear("808080")) < 1.5, "{view:?}");
    }
    let ([own_red, _, red], [own_green, _, green]) = (seen("c05050"), seen("7a7a30"));
    assert!(apart(&red, &green) < 0.5 * apart(&own_red, &own_green));
}
