/** Law schools: mean test score and mean grade of a class. Efron & Tibshirani 1993, table 3.1. */
export const LAW_SCHOOL = {
  score: [576, 635, 558, 578, 666, 580, 555, 661, 651, 605, 653, 575, 545, 572, 594],
  grade: [3.39, 3.3, 2.81, 3.03, 3.44, 3.07, 3.0, 3.43, 3.36, 3.13, 3.12, 2.74, 2.76, 2.88, 2.96],
} as const;
