# Times one fit of the same rows by nlme (season) or lme4 (programme). Usage: Rscript bench/peer-mixed.R season|programme FILE.csv
arguments <- commandArgs(TRUE)
data <- read.csv(arguments[2])
suppressMessages(if (arguments[1] == "season") library(nlme) else library(lme4))
fit <- function() if (arguments[1] == "season") {
  lme(y ~ phase + x, data, random = ~ 1 | group, correlation = corCAR1(form = ~ time | group), method = "REML")
} else {
  lmer(y ~ phase + x + (phase | group), data, REML = TRUE)
}
invisible(fit())
elapsed <- sapply(1:3, function(i) system.time(fit())[["elapsed"]])
model <- fit()
estimate <- if (arguments[1] == "season") fixef(model)[["phase"]] else fixef(model)[["phase"]]
cat(median(elapsed), estimate, "\n")
