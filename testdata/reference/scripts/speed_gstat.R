# usage: Rscript speed_gstat.R points.csv answers.csv side
# Ordinary kriging of the points (x, y, z in a 100 km square) on a side x side grid, 32
# neighbours; prints the CPU seconds of the krige call, median of 3 runs.
suppressMessages({library(sp); library(gstat)})
a <- commandArgs(TRUE)
d <- read.csv(a[1]); coordinates(d) <- ~x + y
s <- as.integer(a[3]); h <- 1e5 / s
g <- expand.grid(x = (seq_len(s) - 0.5) * h, y = (seq_len(s) - 0.5) * h); coordinates(g) <- ~x + y
v <- vgm(16, "Exp", 10000, 1)
cpu <- numeric(3)
for (i in 1:3) {
  p <- proc.time(); k <- krige(z ~ 1, d, g, v, nmax = 32, debug.level = 0); q <- proc.time() - p
  cpu[i] <- q[["user.self"]] + q[["sys.self"]]
}
write.csv(data.frame(pred = sprintf("%.15g", k$var1.pred), var = sprintf("%.15g", k$var1.var)), a[2], row.names = FALSE, quote = FALSE)
cat(median(cpu), "\n")
