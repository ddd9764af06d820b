# Makes the tables of ../coverage: survival curves by survfit, intervals of shares by
# prop.test, sums of chances by convolution. Run in this folder: Rscript coverage.R
library(survival)
options(digits = 15)
out <- function(x, name) write.csv(x, file.path("..", "coverage", name), row.names = FALSE, quote = FALSE, na = "")

# Remission in weeks, 6-mercaptopurine and placebo: Freireich et al. (1963), Blood 21:699-716,
# as printed in Cox and Oakes (1984), table 1.1; 0 marks a patient still in remission.
sixmp <- data.frame(set = "6-mp",
  time = c(6, 6, 6, 6, 7, 9, 10, 10, 11, 13, 16, 17, 19, 20, 22, 23, 25, 32, 32, 34, 35),
  failed = c(1, 1, 1, 0, 1, 0, 1, 0, 0, 1, 1, 0, 0, 0, 1, 1, 0, 0, 0, 0, 0))
placebo <- data.frame(set = "placebo",
  time = c(1, 1, 2, 2, 3, 4, 4, 5, 5, 8, 8, 8, 8, 11, 11, 12, 12, 15, 17, 22, 23), failed = 1)
set.seed(20261126)
made <- data.frame(set = "made-up", time = round(rexp(200, 1 / 4), 1))
made$failed <- rbinom(200, 1, 0.6)
made$time[1:3] <- 0
made$failed[1:3] <- c(1, 0, 1)
spans <- rbind(sixmp, placebo, made)
out(spans, "spans.csv")

curves <- lapply(split(spans, factor(spans$set, unique(spans$set))), function(d) {
  s <- summary(survfit(Surv(time, failed) ~ 1, data = d, conf.type = "log-log"), censored = TRUE)
  data.frame(set = d$set[1], time = s$time, at.risk = s$n.risk, failed = s$n.event, censored = s$n.censor,
    survival = s$surv, error = s$std.err, lo = s$lower, hi = s$upper)
})
out(do.call(rbind, curves), "curves.csv")

kn <- rbind(c(0, 1), c(1, 1), c(0, 10), c(10, 10), c(1, 10), c(7, 12), c(81, 263), c(15, 148), c(29, 29), c(500, 1000))
out(do.call(rbind, lapply(seq_len(nrow(kn)), function(i) {
  ci <- suppressWarnings(prop.test(kn[i, 1], kn[i, 2], correct = FALSE))$conf.int
  data.frame(k = kn[i, 1], n = kn[i, 2], lo = ci[1], hi = ci[2])
})), "wilson.csv")

# The number of independent chances that come true, and its quantiles at 0.025 and 0.975.
chances <- list(c(0.5), rep(0.5, 10), c(0.1, 0.9, 0.3), round(runif(60), 3), rep(0.02, 40))
out(do.call(rbind, lapply(seq_along(chances), function(i) {
  odds <- 1
  for (p in chances[[i]]) odds <- c(odds, 0) * (1 - p) + c(0, odds) * p
  cdf <- cumsum(odds)
  data.frame(case = i, lo = sum(cdf < 0.025), hi = sum(cdf < 0.975), chances = paste(chances[[i]], collapse = " "))
})), "chances.csv")
cat(R.version.string, "survival", as.character(packageVersion("survival")), "\n")
