# fread.R FILE RUNS: milliseconds of processor time, median, of data.table's fread on one thread, the table's start given; both columns as
# doubles, as we have them.
arguments <- commandArgs(TRUE)
suppressMessages(library(data.table))
setDTthreads(1)
once <- function() {
  start <- proc.time()
  table <- fread(arguments[1], skip = 8, header = TRUE, colClasses = "numeric", showProgress = FALSE, nThread = 1)
  stopifnot(ncol(table) == 2, is.numeric(table[[2]]))
  1000 * sum((proc.time() - start)[1:2])
}
invisible(once())
cat("fread", format(median(replicate(as.integer(arguments[2]), once())), digits = 5), "\n")
