//! What may be done with fish, on one of the first lines.

use takeline::assess::Reason;
use takeline::rule::{self, Condition};
use takeline::{TakeAnswer, Tristate, WaterStatus};

use super::headline::{LEAST_OF_A_NAME, Room, with_name};
use super::{HereDocument, TakeDocument};
use crate::words::FishPhrase;

const HARSHEST_FIRST: [TakeAnswer; 4] =
    [TakeAnswer::Release, TakeAnswer::Undecided, TakeAnswer::Keep, TakeAnswer::Unzoned];

impl<'a> HereDocument<'a> {
    /// The one fish asked about, where it has to go back and might be on board if it was caught elsewhere.
    pub(super) fn fish_from_elsewhere(&self) -> Option<&TakeDocument<'a>> {
        match self.take.as_slice() {
            [one] if one.answer == TakeAnswer::Release && one.possession != Tristate::No => Some(one),
            _ => None,
        }
    }

    pub(super) fn elsewhere(&self, room: Room) -> Vec<String> {
        let Some(fish) = self.fish_from_elsewhere() else { return Vec::new() };
        let rest = (!fish.possession_conditions.is_empty()).then_some(room.rest);
        let possession = fish.possession;
        let say = |shortness| FishPhrase::CaughtElsewhere { possession, rest, shortness };
        [0, 1, 2].map(|shortness| self.words().fish_line(&say(shortness))).into()
    }

    /// The fish on one line: verdict first, and why. Names are cut before reasons.
    pub(super) fn fish(&self, room: Room) -> Vec<String> {
        match self.take.as_slice() {
            [one] => self.one_fish(one, room),
            several => self.several_fish(several, room),
        }
    }

    fn say_fish(&self, phrase: &FishPhrase<'_>) -> String {
        self.words().fish_line(phrase)
    }

    fn one_fish(&self, finding: &TakeDocument<'_>, room: Room) -> Vec<String> {
        let width = room.width;
        let named = |say: &dyn Fn(&str) -> String| with_name(width, finding.asked, LEAST_OF_A_NAME, say);
        let (line, short) = match finding.answer {
            TakeAnswer::Keep if finding.conditions.is_empty() => {
                // nothing is lost with the end of a name
                let say = |fish: &str| self.say_fish(&FishPhrase::Keep(fish));
                (named(&say), None)
            }
            TakeAnswer::Keep => return self.keep_if(finding, room),
            TakeAnswer::Release => return self.release(finding, width),
            TakeAnswer::Undecided => (
                named(&|fish| self.say_fish(&FishPhrase::UndecidedFish(Some(fish)))),
                Some(FishPhrase::UndecidedFish(None)),
            ),
            TakeAnswer::Unzoned => (
                named(&|fish| self.say_fish(&FishPhrase::NoRuleMentions(Some(fish)))),
                Some(FishPhrase::NoRuleMentions(None)),
            ),
        };
        line.into_iter().chain(short.map(|phrase| self.say_fish(&phrase))).collect()
    }

    fn keep_if(&self, finding: &TakeDocument<'_>, Room { width, rest, .. }: Room) -> Vec<String> {
        let fish = finding.asked;
        let sizes = [(false, false), (true, false), (false, true), (true, true)];
        let within = sizes.into_iter().filter_map(|(is_short, in_units)| {
            let figures = &self.keep_figures(finding, is_short, in_units)?;
            Some(self.say_fish(&FishPhrase::KeepWithin { fish, figures, rest, is_short }))
        });
        let say = |fish: &str| self.say_fish(&FishPhrase::KeepIf(Some(fish), rest));
        let named = with_name(width, fish, LEAST_OF_A_NAME, say);
        within.chain(named).chain([self.say_fish(&FishPhrase::KeepIf(None, rest))]).collect()
    }

    /// That a fish has to go back, and why: the longest first, the last in twenty columns.
    fn release(&self, finding: &TakeDocument<'_>, width: usize) -> Vec<String> {
        let is_elsewhere_open = self.fish_from_elsewhere().is_some();
        let fish = finding.asked;
        let say = |fish: Option<&str>, why: &str, is_caught_here: bool| {
            self.say_fish(&FishPhrase::Release { fish, why, is_caught_here })
        };
        let [long, short] = &self.why_released(finding);
        let refusing = self.refusers(finding);
        let mut lines = Vec::new();
        for zone in &refusing {
            let named = |zone: &str| {
                if self.water == WaterStatus::Closed {
                    self.say_fish(&FishPhrase::ClosedBy(zone))
                } else {
                    self.say_fish(&FishPhrase::OfZone(long, zone))
                }
            };
            let least = if self.water == WaterStatus::Closed { LEAST_OF_A_NAME } else { usize::MAX };
            lines.push(say(Some(fish), &named(zone), is_elsewhere_open));
            lines.extend(with_name(width, zone, least, |zone| {
                say(Some(fish), &named(zone), is_elsewhere_open)
            }));
        }
        lines.push(say(Some(fish), long, is_elsewhere_open));
        lines.push(say(Some(fish), short, is_elsewhere_open));
        for (why, is_caught_here) in
            [(long, is_elsewhere_open), (short, is_elsewhere_open), (long, false), (short, false)]
        {
            lines
                .extend(with_name(width, fish, LEAST_OF_A_NAME, |fish| say(Some(fish), why, is_caught_here)));
        }
        lines.extend([say(None, long, false), say(None, short, false)]);
        lines
    }

    /// Why a fish has to go back: long, and in a few columns.
    fn why_released(&self, finding: &TakeDocument<'_>) -> [String; 2] {
        let mut why = finding.because_codes.iter().filter_map(|reason| self.words().refusal(reason));
        if self.water == WaterStatus::Closed {
            let closed = self.words().refusal(&Reason::Rule { reason: rule::Reason::NothingMayBeTaken });
            return closed.or_else(|| why.next()).unwrap_or_default();
        }
        why.next().unwrap_or_else(|| {
            let text = self.say_fish(&FishPhrase::AgainstTheRule);
            [text.clone(), text]
        })
    }

    /// The zones that refuse a fish, all of them and the first of them.
    fn refusers(&self, finding: &TakeDocument<'_>) -> Vec<String> {
        match (finding.refused_by, finding.refused_by_one_of) {
            ([], []) => {
                let deciding = self.deciding_zone().filter(|_| self.water == WaterStatus::Closed);
                deciding.map(|zone| zone.name.to_owned()).into_iter().collect()
            }
            ([], zones) => vec![self.say_fish(&FishPhrase::OneOrAnother(zones))],
            ([one], _) => vec![one.clone()],
            (zones @ [first, ..], _) => vec![zones.join(", "), first.clone()],
        }
    }

    /// Size and bag in a few words, where there is one of each at most; the whole of it stands further down.
    fn keep_figures(&self, finding: &TakeDocument<'_>, is_short: bool, in_units: bool) -> Option<String> {
        // one of several ways to keep it would read as the only one
        if finding.conditions_codes.iter().any(Condition::is_alternative) {
            return None;
        }
        let size = match finding.limits.sizes.as_slice() {
            [] => None,
            [size] if size.min_cm.or(size.max_cm).is_none() => return None,
            [size] if in_units => {
                let size = self.say_fish(&FishPhrase::SizeInUnits(size.min_cm, size.max_cm, is_short));
                // none where the law's own figures are all that is shown
                Some(size).filter(|size| !size.is_empty())
            }
            [size] => Some(self.say_fish(&FishPhrase::SizeCm(size.min_cm, size.max_cm, is_short))),
            _ => return None,
        };
        let bag = match finding.limits.bags.as_slice() {
            [] => None,
            [bag] => Some(self.say_fish(&FishPhrase::AtMost(bag.count))),
            _ => return None,
        };
        let figures: String = size.into_iter().chain(bag).collect();
        (!figures.is_empty()).then_some(figures)
    }

    fn several_fish(&self, findings: &[TakeDocument<'_>], Room { rest, .. }: Room) -> Vec<String> {
        let [mut reasoned, mut named, mut counted] = [Vec::new(), Vec::new(), Vec::new()];
        let [mut marked, mut marked_in_short] = [Vec::new(), Vec::new()];
        let is_conditional =
            |finding: &TakeDocument<'_>| finding.answer == TakeAnswer::Keep && !finding.conditions.is_empty();
        let mut counts = Vec::new();
        for answer in HARSHEST_FIRST {
            let of_answer: Vec<_> = findings.iter().filter(|finding| finding.answer == answer).collect();
            if of_answer.is_empty() {
                continue;
            }
            let word = self.words().take_answer(answer);
            let names: Vec<&str> = of_answer.iter().map(|finding| finding.asked).collect();
            let why = |finding: &&TakeDocument<'_>| {
                let [_, why] = self.why_released(finding);
                self.say_fish(&FishPhrase::FishWhy(finding.asked, &why))
            };
            let with_why: Vec<String> = of_answer.iter().map(why).collect();
            let plain = format!("{word} {}", names.join(", "));
            let is_release = answer == TakeAnswer::Release;
            reasoned.push(if is_release { format!("{word} {}", with_why.join(", ")) } else { plain.clone() });
            let of = |conditional: bool| -> Vec<&str> {
                let found = of_answer.iter().filter(|finding| is_conditional(finding) == conditional);
                found.map(|finding| finding.asked).collect()
            };
            let (outright, under_conditions) = (of(false), of(true));
            if !outright.is_empty() {
                let outright = format!("{word} {}", outright.join(", "));
                marked.push(outright.clone());
                marked_in_short.push(outright);
            }
            if !under_conditions.is_empty() {
                let fish = &under_conditions.join(", ");
                marked.push(self.say_fish(&FishPhrase::KeepTheseIf(fish, false)));
                marked_in_short.push(self.say_fish(&FishPhrase::KeepTheseIf(fish, true)));
            }
            named.push(plain);
            counted.push(format!("{word} {}", names.len()));
            counts.push(names.len());
        }
        let rest_below = findings.iter().any(is_conditional).then_some(rest);
        let say = |parts: &[String], rest| self.say_fish(&FishPhrase::SeveralFish(&parts.join("; "), rest));
        let mut lines = vec![
            say(&reasoned, rest_below),
            say(&named, rest_below),
            say(&marked, None),
            say(&marked_in_short, None),
            say(&counted, Some(rest)),
            say(&counted, None),
        ];
        if let (Some(harshest), [_, others @ ..]) = (counted.first(), counts.as_slice()) {
            lines.push(self.say_fish(&FishPhrase::AndMoreFish(harshest, others.iter().sum())));
        }
        lines
    }
}
