# Reference fit of the matched-speed model's form on made-up minutes: nlme's lme with a random intercept per run and corCAR1.
# Run from the project's root: Rscript oracles/gls/make-matched.R
suppressMessages({ library(nlme); library(jsonlite) })
set.seed(20261127)
runs <- lapply(seq_len(16), function(g) {
  phase <- as.integer(g > 7); n <- sample(12:30, 1)
  t <- cumsum(sample(c(1, 1, 1, 1, 2), n, TRUE)) * 60
  x <- log(3 * (1 + 0.02 * phase)) + 0.03 * rnorm(1) + as.numeric(arima.sim(list(ar = 0.7), n)) * 0.02
  e <- as.numeric(arima.sim(list(ar = 0.5), n)) * 0.006
  y <- log(165) + 0.04 * phase + 0.15 * (x - log(3)) + 0.012 * rnorm(1) + e
  data.frame(run = g, phase = phase, timeS = t, lnSpeed = round(x, 6), response = round(y, 6))
})
data <- do.call(rbind, runs)
reference <- log(3.03)
means <- tapply(data$lnSpeed, data$run, mean)
data$between <- means[data$run] - reference
data$within <- data$lnSpeed - means[data$run]
data$minute <- data$timeS / 60
fit <- lme(response ~ phase + between + within, data, random = ~ 1 | run, correlation = corCAR1(form = ~ minute | run), method = "REML",
           control = lmeControl(msTol = 1e-10, tolerance = 1e-10, maxIter = 200, msMaxIter = 500))
table <- summary(fit)$tTable
values <- list(
  header = list(tool = sprintf("R %s, nlme %s", getRversion(), packageVersion("nlme")), command = "Rscript oracles/gls/make-matched.R",
    seed = 20261127, date = "2026-11-25", units = "natural logarithms of steps per minute and of m/s, seconds",
    tolerance = "estimate to 0.05 of its standard error, standard error to 12 %: ours averages over the day-to-day spread (15 runs) and fits the residuals inside runs only"),
  referenceLnSpeed = reference,
  runs = lapply(split(data, data$run), function(d) list(phase = d$phase[1], timeS = d$timeS, lnSpeed = d$lnSpeed, response = d$response)),
  change = table["phase", "Value"], changeStandardError = table["phase", "Std.Error"],
  exponent = table["between", "Value"], exponentStandardError = table["between", "Std.Error"],
  daySd = as.numeric(VarCorr(fit)["(Intercept)", "StdDev"]), residualSd = fit$sigma,
  rho = as.numeric(coef(fit$modelStruct$corStruct, unconstrained = FALSE)))
names(values$runs) <- NULL
writeLines(toJSON(values, auto_unbox = TRUE, digits = 12), "oracles/gls/matched.json")
