//! The answer over a span of time is the answer at each of its instants.
//!
//! Asked at random instants, and a second before, at and after every instant at which the span is divided, and every
//! midnight of it. At full size:
//!
//! ```text
//! TAKELINE_SPANS=20000 cargo test --release -p takeline --test time_laws -- --nocapture
//! ```
#![expect(clippy::unwrap_used, reason = "a test whose shapes or zones cannot be made has failed")]

use jiff::{Timestamp, ToSpan};
use takeline::Tristate;
use takeline::binding::{BindingSpan, ZoneHere};
use takeline::rule::Access;
use takeline::zone::ZoneSet;
use takeline_test_util::{Dice, RandomZones, seasons};

const SPANS: u64 = 100;
const INSTANTS: u32 = 30;

fn moved(instant: Timestamp, seconds: i64) -> Timestamp {
    instant.checked_add(seconds.seconds()).unwrap()
}

/// What is asked of one random span.
struct Asked {
    zones: ZoneSet,
    here: Vec<ZoneHere>,
    from: Timestamp,
    to: Timestamp,
    access: Option<Access>,
}

impl Asked {
    fn random(seed: u64) -> Self {
        let mut dice = Dice::new(seed);
        let mut made = RandomZones::make(&mut dice);
        for zone in &mut made.zones {
            zone.when = seasons::when(&mut dice, 2, made.centre);
        }
        let sides = [Tristate::Yes, Tristate::Yes, Tristate::Undecided, Tristate::No];
        let here =
            (0..made.zones.len()).map(|number| ZoneHere { number, inside: dice.one_of(&sides) }).collect();
        let from = seasons::instant(&mut dice);
        #[expect(clippy::cast_possible_truncation, reason = "seconds of some days")]
        let length_s = dice.log_between(1.0, 12.0 * 86_400.0) as i64;
        let access = dice.one_of(&[None, Some(Access::Boat), Some(Access::Shore)]);
        Self { zones: ZoneSet::new(made.zones), here, from, to: moved(from, length_s), access }
    }

    fn binds_at(&self, instant: Timestamp) -> Vec<(Tristate, Tristate, Tristate)> {
        let zones = self.zones.binding_zones(&self.here, Some(instant), self.access);
        zones.iter().map(|one| (one.in_force, one.displaced, one.binds)).collect()
    }

    /// The span that holds an instant, and what it says.
    fn told_at(&self, spans: &[BindingSpan], instant: Timestamp) -> Vec<(Tristate, Tristate, Tristate)> {
        let span = spans.iter().rfind(|span| span.from <= instant).unwrap();
        assert!(instant <= self.to && (instant < span.to || instant == self.to));
        span.zones.iter().map(|one| (one.in_force, one.displaced, one.binds)).collect()
    }

    /// Instants worth asking about: random ones, and a second about each edge and each midnight.
    fn instants(&self, spans: &[BindingSpan], dice: &mut Dice) -> Vec<Timestamp> {
        let length_s = self.to.duration_since(self.from).as_secs();
        let mut instants: Vec<Timestamp> = (0..INSTANTS)
            .map(|_| {
                moved(self.from, i64::try_from(dice.below(usize::try_from(length_s + 1).unwrap())).unwrap())
            })
            .collect();
        let midnight = self.from.as_second() - self.from.as_second() % 86_400;
        let midnights = (0..14).map(|day| Timestamp::from_second(midnight + day * 86_400).unwrap());
        let edges = spans.iter().flat_map(|span| [span.from, span.to]).chain(midnights);
        instants.extend(edges.flat_map(|edge| [-1, 0, 1].map(|by| moved(edge, by))));
        instants.retain(|instant| (self.from..=self.to).contains(instant));
        instants
    }
}

#[test]
fn the_answer_over_a_span_is_the_answer_at_each_of_its_instants() {
    let spans =
        std::env::var("TAKELINE_SPANS").ok().map_or(SPANS, |text| text.parse().expect("a whole number"));
    let first = std::env::var("TAKELINE_SEED").ok().map_or(1, |text| text.parse().expect("a whole number"));
    let (mut asked_about, mut divided) = (0_usize, 0_usize);
    for seed in first..first + spans {
        let asked = Asked::random(seed);
        let spans = asked.zones.binding_spans(&asked.here, asked.from, asked.to, asked.access);
        assert_eq!((spans[0].from, spans[spans.len() - 1].to), (asked.from, asked.to), "seed {seed}");
        assert!(
            spans.windows(2).all(|two| two[0].to == two[1].from && two[0].from < two[1].from),
            "seed {seed}"
        );
        divided += spans.len() - 1;
        for instant in asked.instants(&spans, &mut Dice::new(seed ^ 0x71)) {
            asked_about += 1;
            let zones =
                || asked.zones.zones().iter().map(|zone| (&zone.when, &zone.effective)).collect::<Vec<_>>();
            assert_eq!(
                asked.told_at(&spans, instant),
                asked.binds_at(instant),
                "seed {seed} at {instant}, {} to {}: {:?}",
                asked.from,
                asked.to,
                zones()
            );
        }
    }
    println!(
        "{spans} spans from seed {first} on, divided {divided} times, {asked_about} instants: all agree"
    );
}
