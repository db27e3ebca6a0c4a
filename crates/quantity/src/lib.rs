//! Masses, volumes, counts, lengths, temperatures and times, each with an honest range.
//!
//! A [`Quantity`] is low–best–high with the cause of its spread. Low and high are meant as the 5 %
//! and 95 % points. This crate knows no foodstuff and no period measure.

use std::fmt;

pub use num_rational::Ratio;

/// What is measured.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum Dimension {
    /// Weight, in grams.
    Mass,
    /// Capacity, in millilitres.
    Volume,
    /// Things counted.
    Count,
    /// Length, in millimetres.
    Length,
    /// Temperature, in degrees Celsius.
    Temperature,
    /// Time, in minutes.
    Time,
}

/// A number with a dimension.
pub trait Measured: Copy + fmt::Debug + PartialEq + PartialOrd {
    /// What is measured.
    const DIMENSION: Dimension;
    /// Returns the number in the unit of the dimension (see [`Dimension`]).
    fn number(self) -> f64;
    /// Takes a number in the unit of the dimension.
    fn of(number: f64) -> Self;
}

macro_rules! measured {
    ($($(#[doc = $doc:literal])+ $name:ident, $make:ident, $get:ident, $unit:literal;)+) => {$(
        $(#[doc = $doc])+
        #[derive(Clone, Copy, Debug, PartialEq, PartialOrd)]
        pub struct $name(f64);

        impl $name {
            #[doc = concat!("Takes a number of ", $unit, ".")]
            #[must_use]
            pub const fn $make(number: f64) -> Self {
                Self(number)
            }

            #[doc = concat!("Returns the number of ", $unit, ".")]
            #[must_use]
            pub const fn $get(self) -> f64 {
                self.0
            }
        }

        impl Measured for $name {
            const DIMENSION: Dimension = Dimension::$name;
            fn number(self) -> f64 {
                self.0
            }
            fn of(number: f64) -> Self {
                Self(number)
            }
        }
    )+};
}

measured! {
    /// A weight.
    Mass, from_grams, grams, "grams";
    /// A capacity.
    Volume, from_millilitres, millilitres, "millilitres";
    /// A number of things.
    Count, from_things, things, "things";
    /// A length.
    Length, from_millimetres, millimetres, "millimetres";
    /// A temperature.
    Temperature, from_celsius, celsius, "degrees Celsius";
    /// A length of time.
    Time, from_minutes, minutes, "minutes";
}

/// Why a quantity has the spread it has.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum Cause {
    /// No spread: counted or defined.
    Exact,
    /// The source itself prints a range.
    Printed,
    /// The size of the measure is known only within limits.
    Measure,
    /// How the goods fill a measure, or how heavy one of them is, is known only within limits.
    Goods,
    /// Both the measure and the goods.
    MeasureAndGoods,
    /// The word stands for several measures.
    Readings,
}

impl Cause {
    /// Returns the cause of a figure made from two figures.
    #[must_use]
    pub fn with(self, other: Self) -> Self {
        use Cause::{Exact, Goods, Measure, MeasureAndGoods, Printed, Readings};
        match (self, other) {
            (Exact, any) | (any, Exact) => any,
            (one, two) if one == two => one,
            (Readings, _) | (_, Readings) => Readings,
            (Measure | MeasureAndGoods, Goods | MeasureAndGoods)
            | (Goods, Measure | MeasureAndGoods)
            | (MeasureAndGoods, Measure) => MeasureAndGoods,
            (Printed, any) | (any, Printed) => any,
            (Measure, Measure) => Measure,
            (Goods, Goods) => Goods,
        }
    }

    /// Returns the cause as words that end a sentence such as "the range is …".
    #[must_use]
    pub fn words(self) -> &'static str {
        match self {
            Self::Exact => "exact",
            Self::Printed => "the source prints a range",
            Self::Measure => "the size of the measure is known only within limits",
            Self::Goods => "the goods themselves vary",
            Self::MeasureAndGoods => "both the measure and the goods vary",
            Self::Readings => "the word can be read as several measures",
        }
    }
}

/// A figure: low, best and high of one dimension, with the cause of the spread.
///
/// All three are finite and `low <= best <= high`.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Quantity<D> {
    low: D,
    best: D,
    high: D,
    cause: Cause,
}

impl<D: Measured> Quantity<D> {
    /// Returns a figure, or nothing if the three are not finite and in order.
    #[must_use]
    pub fn new(low: D, best: D, high: D, cause: Cause) -> Option<Self> {
        let finite = [low, best, high].iter().all(|figure| figure.number().is_finite());
        (finite && low <= best && best <= high).then_some(Self { low, best, high, cause })
    }

    /// Returns a figure without spread; a number that is not finite becomes zero.
    #[must_use]
    pub fn exact(value: D) -> Self {
        let value = if value.number().is_finite() { value } else { D::of(0.0) };
        Self { low: value, best: value, high: value, cause: Cause::Exact }
    }

    /// Returns the 5 % point.
    #[must_use]
    pub fn low(self) -> D {
        self.low
    }

    /// Returns the best value.
    #[must_use]
    pub fn best(self) -> D {
        self.best
    }

    /// Returns the 95 % point.
    #[must_use]
    pub fn high(self) -> D {
        self.high
    }

    /// Returns why there is a spread.
    #[must_use]
    pub fn cause(self) -> Cause {
        self.cause
    }

    /// Returns the figure times a printed number, itself low to high, both at least zero.
    #[must_use]
    pub fn times(self, low: f64, high: f64) -> Self {
        let (low, high) = (low.max(0.0), high.max(low.max(0.0)));
        let cause = if high > low { self.cause.with(Cause::Printed) } else { self.cause };
        Self {
            low: D::of(self.low.number() * low),
            best: D::of(self.best.number() * f64::midpoint(low, high)),
            high: D::of(self.high.number() * high),
            cause,
        }
    }

    /// Returns the sum of two figures that share their unknowns, so that spreads add in full.
    #[must_use]
    pub fn plus(self, other: Self) -> Self {
        Self {
            low: D::of(self.low.number() + other.low.number()),
            best: D::of(self.best.number() + other.best.number()),
            high: D::of(self.high.number() + other.high.number()),
            cause: self.cause.with(other.cause),
        }
    }

    /// Returns this figure times an independent one of no dimension given as low, best, high, in
    /// another dimension (a volume times a density is a mass).
    ///
    /// Both figures must be positive. Independent spreads combine in quadrature of the logarithms
    /// on each side: if `low = best·e^-a` and the other `low = best·e^-b`, the product's low is
    /// `best·e^-√(a²+b²)`. That is exact for log-normal figures whose low and high are the 5 % and
    /// 95 % points. A figure at or below zero falls back to multiplying the bounds.
    #[must_use]
    pub fn into_by<E: Measured>(self, low: f64, best: f64, high: f64, cause: Cause) -> Quantity<E> {
        let (l, b, h) = (self.low.number(), self.best.number(), self.high.number());
        let product = b * best;
        let (product_low, product_high) = if l > 0.0 && low > 0.0 && best >= low && high >= best {
            let down = libm::hypot(libm::log(b / l), libm::log(best / low));
            let up = libm::hypot(libm::log(h / b), libm::log(high / best));
            (product * libm::exp(-down), product * libm::exp(up))
        } else {
            ((l * low).min(product), (h * high).max(product))
        };
        let cause = self.cause.with(if high > low { cause } else { Cause::Exact });
        Quantity { low: E::of(product_low), best: E::of(product), high: E::of(product_high), cause }
    }

    /// Returns the figure with another cause of spread.
    #[must_use]
    pub fn because(self, cause: Cause) -> Self {
        Self { cause, ..self }
    }
}

/// A figure whose dimension is known only when it has been reckoned.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum Figure {
    /// A weight.
    Mass(Quantity<Mass>),
    /// A capacity.
    Volume(Quantity<Volume>),
    /// A number of things.
    Count(Quantity<Count>),
}

impl Figure {
    /// Returns low, best and high in the unit of the dimension.
    #[must_use]
    pub fn numbers(self) -> (f64, f64, f64) {
        match self {
            Self::Mass(q) => (q.low.0, q.best.0, q.high.0),
            Self::Volume(q) => (q.low.0, q.best.0, q.high.0),
            Self::Count(q) => (q.low.0, q.best.0, q.high.0),
        }
    }

    /// Returns the unit as the `read --jsonl` contract writes it: `g`, `ml` or `count`.
    #[must_use]
    pub fn unit(self) -> &'static str {
        match self {
            Self::Mass(_) => "g",
            Self::Volume(_) => "ml",
            Self::Count(_) => "count",
        }
    }

    /// Returns why there is a spread.
    #[must_use]
    pub fn cause(self) -> Cause {
        match self {
            Self::Mass(q) => q.cause,
            Self::Volume(q) => q.cause,
            Self::Count(q) => q.cause,
        }
    }

    /// Returns the figure times a printed number, itself low to high, both at least zero.
    #[must_use]
    pub fn times(self, low: f64, high: f64) -> Self {
        match self {
            Self::Mass(q) => Self::Mass(q.times(low, high)),
            Self::Volume(q) => Self::Volume(q.times(low, high)),
            Self::Count(q) => Self::Count(q.times(low, high)),
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn order_is_kept() {
        let g = Mass::from_grams;
        assert!(Quantity::new(g(2.0), g(1.0), g(3.0), Cause::Measure).is_none());
        assert!(Quantity::new(g(f64::NAN), g(1.0), g(3.0), Cause::Measure).is_none());
    }

    #[test]
    fn independent_spreads_add_in_quadrature() {
        let cup = Quantity::new(
            Volume::from_millilitres(100.0),
            Volume::from_millilitres(200.0),
            Volume::from_millilitres(400.0),
            Cause::Measure,
        )
        .expect("in order");
        let weight: Quantity<Mass> = cup.into_by(0.25, 0.5, 1.0, Cause::Goods);
        // ln 2 on each side from both: e^(√2·ln 2) = 2^√2 = 2.6651 (worked by hand).
        assert!((weight.best().grams() - 100.0).abs() < 1e-9);
        assert!((weight.high().grams() - 266.514).abs() < 0.001);
        assert!((weight.low().grams() - 37.5214).abs() < 0.001);
        assert_eq!(weight.cause(), Cause::MeasureAndGoods);
    }
}
