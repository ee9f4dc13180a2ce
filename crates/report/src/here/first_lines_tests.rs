//! Laws of the first lines and of the layout, over answers drawn at random from every kind of reason, warning and remedy.

use std::ops::RangeInclusive;

use takeline::assess::{Reason, Warning};
use takeline::rule::{Allowance, Bag, BagPer, Measure, Size};
use takeline::test_util::{Chance, samples};
use takeline::{
    Assessment, ClearingMove, Containment, Position, TakeAnswer, TakeFinding, Tristate, TrueBearing,
    WaterStatus, ZoneFinding,
};
use textwrap::core::display_width;

use super::headline::spoils;
use super::test_fixtures::{assessment, fish, lantern_reach, metres, named, sallow_cove};
use super::{HereDocument, here_brief, here_text};
use crate::words::{English, Words};

const WIDTHS: RangeInclusive<usize> = 20..=120;

const FISH: [&str; 5] = ["cod", "pollack", "ballan wrasse", "bluefin tuna (young of the year)", "sprat"];

const ZONES: [&str; 3] =
    ["Bay", "Sallow Cove Reserve", "Marrowick North Shore Seasonal Nursery Area, east part"];

fn one_of<T: Clone>(chance: &mut Chance, all: &[T]) -> T {
    all[chance.below(all.len())].clone()
}

fn some_of<T: Clone>(chance: &mut Chance, all: &[T], most: usize) -> Vec<T> {
    (0..chance.below(most + 1)).map(|_| one_of(chance, all)).collect()
}

const ANSWERS: [Tristate; 3] = [Tristate::Yes, Tristate::No, Tristate::Undecided];

fn zone(chance: &mut Chance) -> ZoneFinding {
    let sides = [Containment::Inside, Containment::Outside, Containment::Undecided];
    let side = one_of(chance, &sides);
    let distance = one_of(chance, &[0.2, 4.0, 393.0, 4260.0, 45_678.0, 250_000.0]);
    let base = if chance.one_in(2) { lantern_reach() } else { sallow_cove(side, distance) };
    let is_known = !chance.one_in(8);
    ZoneFinding {
        containment: side,
        on_the_line: chance.one_in(8),
        signed_distance: is_known
            .then(|| metres(if side == Containment::Inside { -distance } else { distance })),
        uncertainty_95: metres(one_of(chance, &[4.0, 10.0, 680.0, 1500.0])),
        in_force: one_of(chance, &ANSWERS),
        in_force_because: some_of(chance, &samples::in_force_reasons(), 2),
        nearest: base.nearest.filter(|_| is_known),
        binds: one_of(chance, &ANSWERS),
        ..named(one_of(chance, &ZONES), base)
    }
}

fn finding(chance: &mut Chance) -> TakeFinding {
    let answers = [TakeAnswer::Keep, TakeAnswer::Release, TakeAnswer::Undecided, TakeAnswer::Unzoned];
    let zones = ["Sallow Cove Reserve".to_owned(), "Bay".to_owned()];
    let size = |min_cm, max_cm| Size { min_cm, max_cm, measure: Measure::TotalLength };
    let sizes = [size(Some(8.0), None), size(Some(27.5), Some(40.0)), size(None, Some(110.0))];
    let bag = Bag { count: one_of(chance, &[2, 40, 1500]), per: BagPer::PersonDay };
    TakeFinding {
        because: some_of(chance, &samples::reasons(), 3)
            .into_iter()
            .chain(
                some_of(chance, &samples::rule_reasons(), 3)
                    .into_iter()
                    .map(|reason| Reason::Rule { reason }),
            )
            .collect(),
        conditions: some_of(chance, &samples::conditions(), 4),
        settle: some_of(chance, &samples::remedies(), 2),
        refused_by: some_of(chance, &zones, 2),
        refused_by_one_of: some_of(chance, &zones, 2),
        possession: one_of(chance, &ANSWERS),
        possession_because: some_of(chance, &samples::reasons(), 2),
        possession_conditions: some_of(chance, &samples::conditions(), 2),
        within: Allowance {
            sizes: some_of(chance, &sizes, 1),
            bags: some_of(chance, &[bag], 1),
            ..Allowance::default()
        },
        ..fish(one_of(chance, &FISH), one_of(chance, &answers))
    }
}

fn answer(chance: &mut Chance) -> Assessment {
    let places = [WaterStatus::Closed, WaterStatus::Restricted, WaterStatus::Unzoned, WaterStatus::Undecided];
    let water = one_of(chance, &places);
    let zones: Vec<_> = (0..chance.below(4)).map(|_| zone(chance)).collect();
    let way = ClearingMove {
        distance: metres(one_of(chance, &[13.4, 1234.0, 12_345.0])),
        bearing: TrueBearing::from_degrees(225.0).unwrap(),
        to: Position::from_degrees(45.118_114, -30.121_82).unwrap(),
        water_there: one_of(chance, &places),
    };
    Assessment {
        water_because: some_of(chance, &samples::reasons(), 3),
        take: (0..chance.below(4)).map(|_| finding(chance)).collect(),
        settling_move: chance.one_in(2).then_some(way),
        settle: some_of(chance, &samples::remedies(), 3),
        standoff_kept: chance.one_in(3).then(|| one_of(chance, &ANSWERS)),
        closed_by_one_of: (0..zones.len().min(chance.below(3))).collect(),
        warnings: some_of(chance, &samples::warnings(), 3),
        ..assessment(water, zones)
    }
}

/// Calls for each of many answers drawn at random.
fn for_each_answer(seed: u64, check: impl Fn(&Assessment, &HereDocument<'_>)) {
    let mut chance = Chance::new(seed);
    for _ in 0..60 {
        let answer = answer(&mut chance);
        check(&answer, &HereDocument::of(&answer, &English));
    }
}

fn first_three(text: &str) -> Vec<&str> {
    text.lines().take(3).collect()
}

#[test]
fn no_line_is_wider_than_asked_at_any_width() {
    for_each_answer(1, |_, document| {
        for width in WIDTHS {
            for text in [here_text(document, width), here_brief(document, width)] {
                for line in text.lines() {
                    assert!(display_width(line) <= width, "{width}: {line}\n{text}");
                }
            }
        }
    });
}

#[test]
fn a_brief_answer_is_three_lines_at_most_and_begins_as_the_full_one_does() {
    for_each_answer(2, |_, document| {
        for width in WIDTHS {
            let (full, brief) = (here_text(document, width), here_brief(document, width));
            assert!((2..=3).contains(&brief.lines().count()), "{width}: {brief}");
            // what the brief one cuts stands whole in the full one, on a line and the next
            let begun: Vec<&str> = full.lines().take(2).flat_map(str::split_whitespace).collect();
            let first = brief.lines().next().unwrap();
            match first.split_once('…') {
                Some((kept, _)) => assert!(begun.join(" ").starts_with(kept), "{width}: {full}"),
                None => assert_eq!(full.lines().next(), Some(first), "{width}"),
            }
        }
    });
}

/// Whether a line holds this reason whole, and not what is left of it.
fn holds(line: &str, why: &[String; 2]) -> bool {
    why.iter().any(|why| line.contains(why.as_str()))
}

#[test]
fn a_fish_that_has_to_go_back_carries_its_reason_at_every_width() {
    let mut counted = 0;
    let mut chance = Chance::new(3);
    for _ in 0..400 {
        let answer = answer(&mut chance);
        let [one] = answer.take.as_slice() else { continue };
        if one.answer != TakeAnswer::Release {
            continue;
        }
        counted += 1;
        let document = HereDocument::of(&answer, &English);
        let mut reasons = one.because.iter().filter_map(|reason| English.refusal(reason));
        let why = match answer.water {
            WaterStatus::Closed => [String::from("closed"), String::from("closed")],
            WaterStatus::Restricted | WaterStatus::Unzoned | WaterStatus::Undecided => {
                reasons.next().unwrap_or_else(|| [String::from("not allowed"), String::from("not allowed")])
            }
        };
        for width in WIDTHS {
            let mut texts = vec![here_brief(&document, width)];
            // the first lines are the same ones below which the rest stands
            texts.extend(width.is_multiple_of(10).then(|| here_text(&document, width)));
            for text in texts {
                let lines = first_three(&text);
                let line = lines.iter().find(|line| line.starts_with("RELEASE"));
                assert!(line.is_some_and(|line| holds(line, &why)), "{width}: {why:?}\n{text}");
            }
        }
    }
    assert!(counted > 20, "{counted}");
}

#[test]
fn a_fish_that_may_be_kept_under_conditions_never_reads_as_kept_without() {
    for_each_answer(4, |answer, document| {
        let [one] = answer.take.as_slice() else { return };
        if one.answer != TakeAnswer::Keep || one.conditions.is_empty() {
            return;
        }
        for width in WIDTHS {
            for (text, rest) in
                [(here_text(document, width), "see below"), (here_brief(document, width), "see full")]
            {
                let kept = first_three(&text).into_iter().find(|line| line.starts_with("KEEP"));
                assert!(kept.is_some_and(|line| line.ends_with(rest)), "{width}: {text}");
            }
        }
    });
}

#[test]
fn a_warning_that_spoils_the_answer_is_in_the_first_three_lines() {
    for_each_answer(5, |answer, document| {
        let is_spoilt = answer.warnings.iter().any(spoils);
        for width in WIDTHS {
            for text in [here_text(document, width), here_brief(document, width)] {
                let is_told = first_three(&text).iter().any(|line| line.contains("WARNING"));
                assert_eq!(is_told, is_spoilt, "{width}: {text}");
            }
        }
    });
}

/// Of an answer in brief whose exit status is that of the stand-off alone, no line said so.
#[test]
fn a_stand_off_that_decides_the_exit_status_is_in_the_brief_answer() {
    for_each_answer(7, |answer, document| {
        let kept = answer.standoff_kept.filter(|kept| *kept != Tristate::Yes);
        let is_open = answer.water == WaterStatus::Undecided
            || answer.take.iter().any(|fish| fish.answer == TakeAnswer::Undecided);
        for width in 40..=120 {
            let text = here_brief(document, width);
            if kept.is_some() && !is_open {
                assert!(
                    text.contains("Stand-off NOT kept") || text.contains("Stand-off UNDECIDED"),
                    "{width}: {text}"
                );
            }
        }
    });
}

#[test]
fn the_warnings_that_spoil_an_answer_are_these() {
    let spoiling: Vec<&str> =
        samples::warnings().iter().filter(|one| spoils(one)).map(Warning::code).collect();
    assert_eq!(
        spoiling,
        [
            "edition-expired",
            "far-from-every-zone",
            "on-land",
            "few-digits",
            "week-count-doubted",
            "year-doubted"
        ]
    );
}

#[test]
fn nothing_that_the_document_says_is_lost_at_any_width() {
    let bare = |text: &str| text.split_whitespace().collect::<String>();
    for_each_answer(6, |_, document| {
        for width in [20, 21, 29, 40, 57, 80, 120] {
            let text = bare(&here_text(document, width));
            let of_zones = document.zones.iter().flat_map(|zone| {
                [&zone.in_force_because, &zone.passage].into_iter().flatten().chain(zone.conditions)
            });
            let of_fish = document.take.iter().flat_map(|fish| {
                let possession = if fish.answer == TakeAnswer::Unzoned {
                    [].iter().chain(&[])
                } else {
                    fish.possession_because.iter().chain(&fish.possession_conditions)
                };
                fish.because.iter().chain(&fish.conditions).chain(&fish.settle).chain(possession)
            });
            let of_water = document.water_because.iter().chain(&document.settle).chain(&document.warnings);
            for said in of_zones.chain(of_fish).chain(of_water) {
                assert!(text.contains(&bare(said)), "{width}: lost: {said}");
            }
        }
    });
}
