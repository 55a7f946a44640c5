# Reference values of models with autocorrelated residuals by REML: nlme's gls and lme with corAR1 and corCAR1.
# Run from the project's root: Rscript oracles/gls/make.R
suppressMessages({ library(nlme); library(jsonlite) })
set.seed(20261126)

simulate <- function(sizes, tau, rho, sigma, beta, irregular) {
  rows <- lapply(seq_along(sizes), function(g) {
    n <- sizes[g]
    t <- if (irregular) cumsum(sample(c(1, 1, 1, 2, 3.5), n, TRUE)) else seq_len(n)
    e <- numeric(n); e[1] <- sigma * rnorm(1)
    for (i in seq_len(n)[-1]) { phi <- rho^(t[i] - t[i - 1]); e[i] <- phi * e[i - 1] + sigma * sqrt(1 - phi^2) * rnorm(1) }
    x <- round(rnorm(n), 6)
    data.frame(y = round(beta[1] + beta[2] * x + tau * rnorm(1) + e, 6), x = x, t = t, g = g)
  })
  do.call(rbind, rows)
}
tight <- list(gls = glsControl(msTol = 1e-10, tolerance = 1e-10, maxIter = 200, msMaxIter = 500),
              lme = lmeControl(msTol = 1e-10, tolerance = 1e-10, maxIter = 200, msMaxIter = 500, niterEM = 50))
describe <- function(name, data, random, correlation) {
  fit <- if (random) lme(y ~ x, data, random = ~ 1 | g, correlation = correlation, method = "REML", control = tight$lme)
         else gls(y ~ x, data, correlation = correlation, method = "REML", control = tight$gls)
  n <- nrow(data); p <- 2
  fixed <- if (random) fixef(fit) else coef(fit)
  errors <- if (random) sqrt(diag(fit$varFix)) else sqrt(diag(fit$varBeta))
  # nlme's gls leaves the constant as it is, lme as lme4 does: kept as printed, with the constant's form said in the test.
  list(name = name, y = data$y, x = data$x, time = data$t, group = data$g - 1L, random = random,
       fixed = as.numeric(fixed), fixedStandardErrors = as.numeric(errors), residualSd = fit$sigma,
       randomSd = if (random) as.numeric(VarCorr(fit)["(Intercept)", "StdDev"]) else 0,
       rho = as.numeric(coef(fit$modelStruct$corStruct, unconstrained = FALSE)),
       minusTwoLogLik = -2 * as.numeric(logLik(fit)), lnDetXtX = as.numeric(determinant(crossprod(model.matrix(~ x, data)))$modulus))
}
one <- simulate(80, 0, 0.7, 1, c(2, 0.5), FALSE)
several <- simulate(c(20, 25, 30, 15, 22, 28), 0, 0.6, 1.2, c(1, -0.4), FALSE)
runs <- simulate(rep(25, 14), 1.2, 0.55, 0.8, c(0, 1), FALSE)
sparse <- simulate(sample(12:30, 12, TRUE), 0.9, 0.7, 0.6, c(5, 0.15), TRUE)
cadence <- simulate(rep(30, 10), 0.015, 0.6, 0.01, c(5.1, 0.15), TRUE)
sets <- list(
  describe("gls corAR1, one series", one, FALSE, corAR1(form = ~ t | g)),
  describe("gls corAR1, six series", several, FALSE, corAR1(form = ~ t | g)),
  describe("lme corAR1, random intercept", runs, TRUE, corAR1(form = ~ t | g)),
  describe("lme corCAR1, random intercept, irregular times", sparse, TRUE, corCAR1(form = ~ t | g)),
  describe("lme corCAR1, the size of step-rate data", cadence, TRUE, corCAR1(form = ~ t | g)),
  describe("gls corCAR1, irregular times", sparse, FALSE, corCAR1(form = ~ t | g))
)
header <- list(
  tool = sprintf("R %s, nlme %s", getRversion(), packageVersion("nlme")),
  command = "Rscript oracles/gls/make.R", seed = 20261126, date = "2026-11-25", units = "arbitrary; time in steps of one unit",
  tolerance = "fixed effects 1e-4, standard errors, standard deviations and rho 1e-3, -2 log likelihood 1e-6, all relative: both sides stop an optimiser")
writeLines(toJSON(list(header = header, sets = sets), auto_unbox = TRUE, digits = 12, dataframe = "columns"), "oracles/gls/values.json")
