//! From words for a heat to degrees.

use quartern_knowledge::ovens;
use quartern_quantity::{Cause, Quantity, Temperature};
use quartern_reading::{Heat, HeatClass, HeatOf, Reading, flat};
use quartern_text::{Transcript, Within};

use crate::types::{HeatGround, HeatReason, ReckonedHeat};

/// Reckons every heat of a reading.
pub(crate) fn heats(transcript: &Transcript, reading: &Reading, at: &Within) -> Vec<ReckonedHeat> {
    reading
        .heats
        .iter()
        .enumerate()
        .map(|(index, heat)| one(transcript, index, heat, at, before_fire(reading, heat)))
        .collect()
}

/// Does the meat hang or lie before the fire, as before the heat of an oven? Then a fire has a heat
/// that can be given in degrees; under a pan it has none.
fn before_fire(reading: &Reading, heat: &Heat) -> bool {
    reading.steps.iter().filter(|step| step.span.meets(heat.span)).any(|step| {
        step.actions.iter().any(|action| matches!(*action, "roast" | "broil" | "toast" | "grill" | "baste"))
    })
}

fn one(transcript: &Transcript, index: usize, heat: &Heat, at: &Within, before_fire: bool) -> ReckonedHeat {
    let words = flat(transcript.words(heat.span)).replace('ſ', "s");
    let degrees = |low: f64, best: f64, high: f64, cause| {
        Quantity::new(
            Temperature::from_celsius(low),
            Temperature::from_celsius(best),
            Temperature::from_celsius(high),
            cause,
        )
    };
    let (celsius, ground) = if let Some((low, high)) = heat.celsius {
        let cause = if high > low { Cause::Printed } else { Cause::Exact };
        (degrees(low, f64::midpoint(low, high), high, cause), HeatGround::Printed)
    } else {
        let class = heat.class.map_or("", HeatClass::as_str);
        let folded = words.to_lowercase();
        let record = ovens(&folded, class, at).into_iter().find(|oven| match heat.of {
            HeatOf::Oven => true,
            // Degrees of an oven say nothing of a pan over a fire: only a record of fires will do.
            HeatOf::Fire => {
                before_fire
                    && oven.words.iter().all(|known| known.contains("fire"))
                    && oven.words.iter().any(|known| folded.contains(known))
            }
            HeatOf::Fat => oven.words.iter().all(|known| known.contains("fat")),
        });
        match record {
            Some(oven) => (degrees(oven.low, oven.best, oven.high, Cause::Measure), HeatGround::Record(oven)),
            None => (None, HeatGround::None),
        }
    };
    ReckonedHeat { heat: index, celsius, reason: HeatReason { words, at: at.clone(), of: heat.of, ground } }
}
