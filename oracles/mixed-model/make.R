# Reference values of linear mixed models by REML: lme4, with degrees of freedom by lmerTest.
# Run from the project's root: Rscript oracles/mixed-model/make.R
suppressMessages({ library(lme4); library(lmerTest); library(jsonlite) })
set.seed(20261125)

control <- lmerControl(optimizer = "bobyqa", optCtrl = list(rhobeg = 0.2, rhoend = 1e-9, maxfun = 1e5))
describe <- function(name, formula, data, columns, slopes) {
  fit <- lmer(formula, data, REML = TRUE, control = control)
  table <- summary(fit)$coefficients
  random <- as.matrix(VarCorr(fit)[[1]])
  effects <- ranef(fit)[[1]]
  list(name = name, y = data$y, group = as.integer(factor(data$g)) - 1L, columns = data[columns], slopes = slopes,
       fixed = table[, "Estimate"], fixedStandardErrors = table[, "Std. Error"], satterthwaiteDf = table[, "df"],
       randomCovariance = as.vector(t(random)), residualSd = sigma(fit), remlCriterion = REMLcrit(fit),
       firstGroupEffects = as.numeric(effects[1, ]))
}

simulate <- function(sizes, tau, slopeSd, correlation, sigma, beta) {
  rows <- lapply(seq_along(sizes), function(g) {
    n <- sizes[g]
    u <- rnorm(2)
    u0 <- tau * u[1]; u1 <- slopeSd * (correlation * u[1] + sqrt(1 - correlation^2) * u[2])
    x <- round(rnorm(n, 0, 1), 6); z <- round(rbinom(n, 1, 0.5) + 0.1 * rnorm(n), 6)
    y <- round(beta[1] + u0 + (beta[2] + u1) * x + beta[3] * z + sigma * rnorm(n), 6)
    data.frame(y = y, x = x, z = z, g = g)
  })
  do.call(rbind, rows)
}

sleep <- data.frame(y = sleepstudy$Reaction, x = sleepstudy$Days, g = sleepstudy$Subject)
sets <- list(
  describe("sleepstudy, random intercept and slope", y ~ x + (x | g), sleep, "x", TRUE),
  describe("sleepstudy, random intercept", y ~ x + (1 | g), sleep, "x", FALSE),
  describe("synthetic 1: balanced, intercept", y ~ x + z + (1 | g), simulate(rep(8, 12), 2, 0, 0, 1, c(5, 1, -0.5)), c("x", "z"), FALSE),
  describe("synthetic 2: unbalanced, intercept", y ~ x + z + (1 | g), simulate(c(3, 4, 9, 15, 6, 7, 20, 2, 5), 1, 0, 0, 1.5, c(0, 0.3, 2)), c("x", "z"), FALSE),
  describe("synthetic 3: balanced, slope", y ~ x + (x | g), simulate(rep(10, 20), 1.5, 0.8, 0.4, 1, c(1, 2, 0)), "x", TRUE),
  describe("synthetic 4: unbalanced, slope, two covariates", y ~ x + z + (x | g), simulate(sample(4:25, 25, TRUE), 1, 1.2, -0.3, 0.7, c(-2, 0.5, 1)), c("x", "z"), TRUE),
  describe("synthetic 5: the size of step-rate data", y ~ x + z + (x | g), within(simulate(rep(30, 16), 0.015, 0.04, 0.2, 0.01, c(5.1, 0.15, 0.04)), {}), c("x", "z"), TRUE)
)
header <- list(
  tool = sprintf("R %s, lme4 %s, lmerTest %s", getRversion(), packageVersion("lme4"), packageVersion("lmerTest")),
  command = "Rscript oracles/mixed-model/make.R", seed = 20261125, date = "2026-11-25",
  units = "sleepstudy: reaction in ms over days of sleep restriction; synthetic: arbitrary",
  credit = "sleepstudy: Belenky et al. 2003, J. Sleep Res. 12:1-12, as shipped with lme4 and used by Bates, Maechler, Bolker & Walker 2015, J. Stat. Softw. 67(1)",
  tolerance = "fixed effects 1e-4, standard errors and variance components 1e-3, REML criterion 1e-6, all relative: both sides stop an optimiser; degrees of freedom 1e-2: numerical second derivatives")
writeLines(toJSON(list(header = header, sets = sets), auto_unbox = TRUE, digits = 12, dataframe = "columns"), "oracles/mixed-model/values.json")
