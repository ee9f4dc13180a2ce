use takeline::Tristate;
use takeline::transit::{CompassPoint, SidePairs};

use super::test_fixtures::*;
use super::{FindDocument, transit_find_text};
use crate::words::English;

fn first(text: &str) -> String {
    text.lines().take(3).collect::<Vec<_>>().join("\n")
}

fn told(sides: &[SidePairs]) -> String {
    let (zone, question) = (zone(), pair_question());
    transit_find_text(&FindDocument::new(&question, &zone, sides, &English), 40)
}

/// One pair that keeps clear, and one that perhaps does.
fn served() -> SidePairs {
    side(CompassPoint::North, vec![pair(Tristate::Yes, 59.0), pair(Tristate::Undecided, -8.0)])
}

#[test]
fn sides_and_their_pairs_are_told_whole_at_40_columns() {
    insta::assert_snapshot!(told(&[served(), side(CompassPoint::East, vec![])]), @r"
    Lone Pine over Sallow Point Day Beacon
    North side: 089° true, 59 m to spare
    NO pair for the east side

    ASKED
      zone: Sallow Cove Reserve
      launch: 45°07.092'N 030°07.302'W
      range: 5000 m from the launch
      marks used from: 500 m to 3000 m away
      eye: 0.9 m above the water; notices a
        gap of 5′ (minutes of arc)
      day: 2026-07-25
      law: Marrowick Reserves Order 2019,
        4(1)
      edition: 2026-1; law read on a date
        not stated
      zone file: marrowick.geojson, sha256
        b8b313bacbd1

    NORTH SIDE, 2596 m long
      1. Lone Pine over Sallow Point Day
        Beacon
        clears: 59 m to spare
        bearing 089° true, marks 1495 m
          apart
        used from 500 m to 3000 m from the
          front mark
        inside: rear mark to the RIGHT
        - Lone Pine shows above Sallow Point
          Day Beacon all along
      2. Lone Pine over Sallow Point Day
        Beacon
        UNDECIDED: 8 m short
        bearing 089° true, marks 1495 m
          apart
        used from 500 m to 3000 m from the
          front mark
        inside: rear mark to the RIGHT
        - Lone Pine shows above Sallow Point
          Day Beacon all along

    EAST SIDE, 2596 m long
      pairs: no usable pair

    WHAT WAS NOT CHECKED
      What stands between: headlands, trees,
        buildings, other boats.
      Haze, rain and glare, and whether a
        mark is lit at night.
      Your compass: iron, magnets and
        speakers near it turn it.
      Swell: in a trough the eye is lower,
        and low marks go first.

    BEAR IN MIND
      Takeline is not an instrument of
        navigation.
      Rules change; a closure by notice
        cannot be known offline.
      The text of the law and the local
        officers decide, not this answer.
      Weather and cold water kill; no fish
        is worth the risk.
    ");
}

#[test]
fn the_best_pair_and_the_sides_without_one_are_in_the_first_three_lines() {
    let weaker = pair(Tristate::Undecided, -8.0);
    insta::assert_snapshot!(first(&told(&[served()])), @r"
    Lone Pine over Sallow Point Day Beacon
    North side: 089° true, 59 m to spare
    The one side in range has a pair
    ");
    insta::assert_snapshot!(first(&told(&[side(CompassPoint::North, vec![weaker])])), @r"
    NO usable pair for Sallow Cove Reserve
    NO pair for the north side
    Use a GPS fix, or look for other marks
    ");
    insta::assert_snapshot!(first(&told(&[])), @r"
    NO usable pair for Sallow Cove Reserve
    No side of the zone is in range
    Use a GPS fix, or look for other marks
    ");
}
