# Reference fit with a slope of each run's own: nlme's lme, random intercept and independent random slope over ln speed per run, corCAR1.
# Run from the project's root: Rscript oracles/gls/make-slopes.R
suppressMessages({ library(nlme); library(jsonlite) })
set.seed(20261128)
reference <- log(3.03)
runs <- lapply(seq_len(24), function(g) {
  phase <- as.integer(g > 11); n <- sample(20:40, 1)
  t <- cumsum(sample(c(1, 1, 1, 1, 2), n, TRUE)) * 60
  x <- log(3 * (1 + 0.06 * phase)) + 0.05 * rnorm(1) + as.numeric(arima.sim(list(ar = 0.7), n)) * 0.03
  e <- as.numeric(arima.sim(list(ar = 0.5), n)) * 0.006
  y <- log(165) + 0.04 * phase + (0.15 + 0.15 * rnorm(1)) * (x - reference) + 0.008 * rnorm(1) + e
  data.frame(run = g, phase = phase, timeS = t, lnSpeed = round(x, 6), response = round(y, 6))
})
data <- do.call(rbind, runs)
means <- tapply(data$lnSpeed, data$run, mean)
data$between <- means[data$run] - reference
data$within <- data$lnSpeed - means[data$run]
data$x <- data$lnSpeed - reference
data$minute <- data$timeS / 60
tight <- lmeControl(msTol = 1e-10, tolerance = 1e-10, maxIter = 200, msMaxIter = 500)
fit <- lme(response ~ phase + between + within, data, random = list(run = pdDiag(~ 1 + x)),
           correlation = corCAR1(form = ~ minute | run), method = "REML", control = tight)
plain <- lme(response ~ phase + between + within, data, random = ~ 1 | run,
             correlation = corCAR1(form = ~ minute | run), method = "REML", control = tight)
table <- summary(fit)$tTable
values <- list(
  header = list(tool = sprintf("R %s, nlme %s", getRversion(), packageVersion("nlme")), command = "Rscript oracles/gls/make-slopes.R",
    seed = 20261128, date = "2026-11-25", units = "natural logarithms of steps per minute and of m/s, seconds",
    tolerance = "change to 0.05 of its standard error, standard error to 12 %, spread of slopes to 5 %: ours averages over the day-to-day spread and takes spread of slopes and residuals from inside the runs only"),
  referenceLnSpeed = reference,
  runs = lapply(split(data, data$run), function(d) list(phase = d$phase[1], timeS = d$timeS, lnSpeed = d$lnSpeed, response = d$response)),
  change = table["phase", "Value"], changeStandardError = table["phase", "Std.Error"],
  exponent = table["between", "Value"], exponentStandardError = table["between", "Std.Error"],
  slopeSd = as.numeric(VarCorr(fit)["x", "StdDev"]), residualSd = fit$sigma,
  rho = as.numeric(coef(fit$modelStruct$corStruct, unconstrained = FALSE)),
  withoutSlopes = list(changeStandardError = summary(plain)$tTable["phase", "Std.Error"],
                       criterionFall = -2 * as.numeric(logLik(plain)) + 2 * as.numeric(logLik(fit))))
names(values$runs) <- NULL
writeLines(toJSON(values, auto_unbox = TRUE, digits = 12), "oracles/gls/slopes.json")
