//! Grades of wool by count, and the mean fibre diameters that they stand for.
//!
//! Source: Official Standards of the United States for Grades of Wool, as reproduced in Mathis and Faris, Wool Grades,
//! New Mexico State University Guide B-409, Table 1 (80s to 46s), and in a second reproduction of the same table (44s
//! to 36s). A grade is taken as the middle of its range, give or take half of it. The grades that are open at one end
//! ("finer than 80s") have no middle and are not offered.

/// One grade.
pub(super) struct Grade {
    /// As written in a plan.
    pub(super) name: &'static str,
    /// Least mean diameter, micron.
    pub(super) finest_micron: f64,
    /// Greatest mean diameter, micron.
    pub(super) coarsest_micron: f64,
}

pub(super) static GRADES: &[Grade] = &[
    grade("80s", 17.70, 19.14),
    grade("70s", 19.15, 20.59),
    grade("64s", 20.60, 22.04),
    grade("62s", 22.05, 23.49),
    grade("60s", 23.50, 24.94),
    grade("58s", 24.95, 26.39),
    grade("56s", 26.40, 27.84),
    grade("54s", 27.85, 29.29),
    grade("50s", 29.30, 30.99),
    grade("48s", 31.00, 32.69),
    grade("46s", 32.70, 34.39),
    grade("44s", 34.40, 36.19),
    grade("40s", 36.20, 38.09),
    grade("36s", 38.10, 40.20),
];

impl Grade {
    /// Middle of the range, micron.
    pub(super) fn middle_micron(&self) -> f64 {
        (self.finest_micron + self.coarsest_micron) / 2.0
    }

    /// Half of the range, micron.
    pub(super) fn half_range_micron(&self) -> f64 {
        (self.coarsest_micron - self.finest_micron) / 2.0
    }
}

/// The grade of this name; the s may be left out.
pub(super) fn grade_named(name: &str) -> Option<&'static Grade> {
    let count = name.trim().trim_end_matches(['s', 'S', '\'', '’']);
    GRADES.iter().find(|grade| grade.name.trim_end_matches('s') == count)
}

const fn grade(name: &'static str, finest_micron: f64, coarsest_micron: f64) -> Grade {
    Grade { name, finest_micron, coarsest_micron }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn each_grade_begins_where_the_finer_one_ends() {
        for pair in GRADES.windows(2) {
            // Guide B-409 prints the ranges to a hundredth of a micron, without a gap.
            assert!((pair[1].finest_micron - pair[0].coarsest_micron - 0.01).abs() < 1e-9, "{}", pair[1].name);
        }
    }

    #[test]
    fn a_grade_is_its_middle() {
        let grade = grade_named("62's").expect("62s is a grade");
        assert!((grade.middle_micron() - 22.77).abs() < 1e-9);
        assert!((grade.half_range_micron() - 0.72).abs() < 1e-9);
        assert!(grade_named("63s").is_none());
    }
}
