use std::fmt;

/// The name of a place in the register of places.
///
/// Made only by the register (`quartern-knowledge`), which hands out the names it knows.
#[derive(Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub struct PlaceId(&'static str);

impl PlaceId {
    /// Takes a name that stands in the register of places.
    #[must_use]
    pub const fn from_register(name: &'static str) -> Self {
        Self(name)
    }

    /// Returns the id as it stands in the register.
    #[must_use]
    pub const fn as_str(self) -> &'static str {
        self.0
    }
}

impl fmt::Debug for PlaceId {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.write_str(self.0)
    }
}

/// A stretch of years, both ends included, within 1000 to 2100.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub struct YearRange {
    first: i16,
    last: i16,
}

/// Why years were refused.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum YearRangeError {
    /// A year outside 1000 to 2100; holds it.
    OutOfRange(i64),
    /// The first year is after the last.
    Backwards(i64, i64),
}

impl fmt::Display for YearRangeError {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        match self {
            Self::OutOfRange(year) => {
                write!(f, "the year {year} is not one a cookery book can have: give a year from 1000 to 2100")
            }
            Self::Backwards(first, last) => {
                write!(f, "the years {first} to {last} run backwards: give the earlier one first")
            }
        }
    }
}

impl std::error::Error for YearRangeError {}

impl YearRange {
    /// Returns the years from `first` to `last`.
    ///
    /// # Errors
    /// See [`YearRangeError`].
    pub fn new(first: i64, last: i64) -> Result<Self, YearRangeError> {
        let check = |year: i64| match i16::try_from(year) {
            Ok(small) if (1000..=2100).contains(&small) => Ok(small),
            _ => Err(YearRangeError::OutOfRange(year)),
        };
        let (low, high) = (check(first)?, check(last)?);
        if low > high {
            return Err(YearRangeError::Backwards(first, last));
        }
        Ok(Self { first: low, last: high })
    }

    /// Returns one year as a range.
    ///
    /// # Errors
    /// See [`YearRangeError`].
    pub fn single(year: i64) -> Result<Self, YearRangeError> {
        Self::new(year, year)
    }

    /// Returns the first year.
    #[must_use]
    pub fn first(self) -> i16 {
        self.first
    }

    /// Returns the last year.
    #[must_use]
    pub fn last(self) -> i16 {
        self.last
    }

    /// Returns the share of these years that lie in a record's years, 0 to 1; an open end has no limit.
    #[must_use]
    pub fn share_in(self, first: Option<i16>, last: Option<i16>) -> f64 {
        let low = self.first.max(first.unwrap_or(i16::MIN));
        let high = self.last.min(last.unwrap_or(i16::MAX));
        if low > high {
            return 0.0;
        }
        f64::from(high - low + 1) / f64::from(self.last - self.first + 1)
    }
}

impl fmt::Display for YearRange {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        if self.first == self.last {
            write!(f, "{}", self.first)
        } else {
            write!(f, "{}–{}", self.first, self.last)
        }
    }
}

/// When and where something was done to a text: written, or printed.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Within {
    /// The years.
    pub years: YearRange,
    /// The place.
    pub place: PlaceId,
}

/// A book or manuscript in one edition or copy.
///
/// Where and when its author wrote is kept apart from where and when it was printed: an American
/// printing of an English book has an American imprint and English measures.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Source {
    /// The title, as short as is clear. Empty when not known.
    pub title: String,
    /// The author. Empty when not known.
    pub author: String,
    /// The years and place the author wrote in: what the measures belong to.
    pub written: Within,
    /// The years and place of the printing, if it differs.
    pub printed: Option<Within>,
    /// Which edition or copy, and where in it. Empty when not known.
    pub edition: String,
    /// May it be reprinted, and on whose word. Empty when not known.
    pub rights: String,
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn years_are_kept_in_bounds() {
        assert_eq!(YearRange::single(99_999), Err(YearRangeError::OutOfRange(99_999)));
        assert_eq!(YearRange::new(1900, 1800), Err(YearRangeError::Backwards(1900, 1800)));
        let range = YearRange::new(1820, 1829).expect("a decade");
        assert!((range.share_in(Some(1826), None) - 0.4).abs() < 1e-12);
        assert!((range.share_in(None, Some(1800))).abs() < 1e-12);
    }
}
