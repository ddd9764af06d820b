# Semivariances of the model families by gstat; run in this folder: Rscript models_gstat.R
suppressMessages(library(gstat)); options(digits = 15)
h <- c(0.01, 1, 10, 50, 100, 200, 299, 300, 301, 500, 900, 2000)
line <- function(name, v) data.frame(model = name, variogramLine(v, dist_vector = h))
d <- rbind(line("Sph", vgm(0.6, "Sph", 300, 0.05)), line("Exp", vgm(0.6, "Exp", 300, 0.05)),
  line("Mat1.5", vgm(0.6, "Mat", 300, 0.05, kappa = 1.5)),
  line("Mat2.5", vgm(0.6, "Mat", 300, 0.05, kappa = 2.5)))
d$gamma <- sprintf("%.15g", d$gamma)
write.csv(d, "../models/gstat_lines.csv", row.names = FALSE, quote = FALSE)
