# Scores of made-up statements, computed apart from the program.
# Rscript trust.R <folder>, R 4.2.2 (base and stats alone).
out <- commandArgs(trailingOnly = TRUE)[1]
set.seed(20261125)
keep <- function(x, name) write.csv(format(x, digits = 17, trim = TRUE), file.path(out, name), row.names = FALSE, quote = FALSE)

# Levels: 40 cases, five tellers, eleven equally likely values each.
n <- 40; members <- 11
level <- do.call(rbind, lapply(seq_len(n), function(i) {
  found <- round(rexp(1, 1 / 8), 2)
  do.call(rbind, lapply(1:5, function(teller) {
    values <- sort(round(found + rnorm(members, rnorm(1, 0, teller), 2), 2))
    data.frame(case = i, block = (i - 1) %/% 4, teller = teller, found = found, t(setNames(values, paste0("v", 1:members))))
  }))
}))
keep(level, "levels.csv")
v <- as.matrix(level[, paste0("v", 1:members)])
crps <- sapply(seq_len(nrow(v)), function(i) mean(abs(v[i, ] - level$found[i])) - mean(abs(outer(v[i, ], v[i, ], "-"))) / 2)
med <- apply(v, 1, quantile, probs = 0.5, type = 5)
held <- function(share) {
  lo <- apply(v, 1, quantile, probs = (1 - share) / 2, type = 5); hi <- apply(v, 1, quantile, probs = (1 + share) / 2, type = 5)
  mean((level$found >= lo & level$found <= hi)[level$teller == 1])
}
scores <- rbind(
  data.frame(score = "crps", teller = 1:5, value = tapply(crps, level$teller, mean)),
  data.frame(score = "mae", teller = 1:5, value = tapply(abs(med - level$found), level$teller, mean)),
  data.frame(score = "rmse", teller = 1:5, value = sqrt(tapply((rowMeans(v) - level$found)^2, level$teller, mean))),
  data.frame(score = "held", teller = c(50, 80, 95), value = c(held(0.5), held(0.8), held(0.95))))

# Layers: 30 logs of different length, four tellers.
layers <- do.call(rbind, lapply(1:30, function(i) {
  cells <- sample(5:70, 1)
  do.call(rbind, lapply(1:4, function(teller) data.frame(
    case = i, block = (i - 1) %/% 3, teller = teller, top = (seq_len(cells) - 1) / 2,
    odds = round(runif(cells)^teller, 5), hit = as.integer(runif(cells) < 0.6))))
}))
keep(layers, "layers.csv")
lost <- -log(pmax(layers$odds, 1e-4))
for (band in list(c(0, 40), c(0, 10), c(10, 20), c(20, 40))) {
  use <- layers$top >= band[1] & layers$top < band[2]
  scores <- rbind(scores,
    data.frame(score = paste0("log-", band[1], "-", band[2]), teller = 1:4, value = tapply(lost[use], layers$teller[use], mean)),
    data.frame(score = paste0("wrong-", band[1], "-", band[2]), teller = 1:4, value = 1 - tapply(layers$hit[use], layers$teller[use], mean)))
}

# Outcomes: 120 bores, three tellers; the first is bolder than it should be.
m <- 120; truth <- plogis(rnorm(m))
outcome <- data.frame(case = 1:m, block = (0:(m - 1)) %/% 10, works = as.integer(runif(m) < truth),
  p1 = round(plogis(2 * qlogis(truth)), 5), p2 = round(rep(mean(truth), m), 5), p3 = round(runif(m), 5))
keep(outcome, "outcomes.csv")
logit <- qlogis(pmin(pmax(outcome$p1, 1e-3), 1 - 1e-3))
slope <- coef(glm(outcome$works ~ logit, family = binomial(), control = glm.control(epsilon = 1e-14, maxit = 100)))[2]
w <- outcome[outcome$p1 >= 0.8 & outcome$p1 < 0.9, ]
interval <- prop.test(sum(w$works), nrow(w), correct = FALSE)$conf.int
scores <- rbind(scores,
  data.frame(score = "brier", teller = 1:3, value = sapply(outcome[, c("p1", "p2", "p3")], function(p) mean((p - outcome$works)^2))),
  data.frame(score = "slope", teller = 1, value = slope),
  data.frame(score = "bin-80-90", teller = 1:2, value = as.numeric(interval)))
keep(scores, "scores.csv")
