/**
 * Base R code, written here with dense matrices: the likelihood of a multilevel model, its maximum by R's own
 * optimiser, cluster-robust errors and their degrees of freedom by definition, and the joint test.
 */
export const multilevelInBaseR = `
likelihood <- function(theta, y, X, V, B, restricted) {
  M <- V
  for (k in seq_along(B)) M <- M + theta[k] * B[[k]]
  L <- tryCatch(chol(M), error = function(e) NULL)
  if (is.null(L)) return(-1e10)
  W <- chol2inv(L)
  A <- t(X) %*% W %*% X
  b <- solve(A, t(X) %*% W %*% y)
  r <- y - X %*% b
  n <- length(y); p <- ncol(X)
  value <- -sum(log(diag(L))) - 0.5 * sum(r * (W %*% r))
  if (restricted)
    value - 0.5 * (n - p) * log(2 * pi) - 0.5 * as.numeric(determinant(A)$modulus) +
      0.5 * as.numeric(determinant(t(X) %*% X)$modulus)
  else value - 0.5 * n * log(2 * pi)
}
best <- function(y, X, V, B, restricted) {
  f <- function(root) -likelihood(root^2, y, X, V, B, restricted)
  K <- length(B)
  top <- optim(rep(0.3, K), f, method = "BFGS", control = list(reltol = 1e-16, maxit = 1000))
  top <- optim(top$par, f, method = "BFGS",
    control = list(reltol = 1e-16, maxit = 1000, ndeps = rep(1e-5, K)))
  top$par^2
}
robust <- function(theta, y, X, V, B, cluster) {
  M <- V
  for (k in seq_along(B)) M <- M + theta[k] * B[[k]]
  W <- solve(M)
  C <- solve(t(X) %*% W %*% X)
  n <- length(y); p <- ncol(X)
  H <- X %*% C %*% t(X) %*% W
  R <- diag(n) - H
  e <- R %*% y
  meat <- matrix(0, p, p)
  simple <- matrix(0, p, p)
  G <- lapply(1:p, function(a) NULL)
  ids <- unique(cluster)
  WX <- W %*% X
  for (id in ids) {
    j <- which(cluster == id)
    Mj <- M[j, j, drop = FALSE]
    D <- chol(Mj)
    Bj <- D %*% R[j, , drop = FALSE] %*% M %*% t(R[j, , drop = FALSE]) %*% t(D)
    s <- eigen((Bj + t(Bj)) / 2, symmetric = TRUE)
    keep <- s$values > 1e-10 * max(s$values)
    root <- s$vectors[, keep, drop = FALSE] %*%
      (t(s$vectors[, keep, drop = FALSE]) / sqrt(s$values[keep]))
    A <- t(D) %*% root %*% D
    u <- t(WX[j, , drop = FALSE]) %*% A %*% e[j]
    meat <- meat + u %*% t(u)
    w <- t(WX[j, , drop = FALSE]) %*% e[j]
    simple <- simple + w %*% t(w)
    g <- t(R[j, , drop = FALSE]) %*% t(A) %*% WX[j, , drop = FALSE] %*% C
    for (a in 1:p) G[[a]] <- cbind(G[[a]], g[, a])
  }
  freedom <- sapply(1:p, function(a) {
    P <- t(G[[a]]) %*% M %*% G[[a]]
    sum(diag(P))^2 / sum(P * P)
  })
  m <- length(ids)
  c(sqrt(diag(C %*% meat %*% C)), freedom, sqrt(diag(C %*% simple %*% C) * m / (m - p)))
}
hotelling <- function(theta, y, X, V, B, cluster, columns) {
  # degrees of freedom of the joint test by brute force: variance of the standardised covariance's entries
  M <- V
  for (k in seq_along(B)) M <- M + theta[k] * B[[k]]
  W <- solve(M); C <- solve(t(X) %*% W %*% X); n <- length(y)
  R <- diag(n) - X %*% C %*% t(X) %*% W
  e <- R %*% y
  WX <- W %*% X
  b <- C %*% t(X) %*% W %*% y
  ids <- unique(cluster)
  one <- lapply(ids, function(id) {
    j <- which(cluster == id)
    D <- chol(M[j, j, drop = FALSE])
    Bj <- D %*% R[j, , drop = FALSE] %*% M %*% t(R[j, , drop = FALSE]) %*% t(D)
    s <- eigen((Bj + t(Bj)) / 2, symmetric = TRUE)
    keep <- s$values > 1e-10 * max(s$values)
    root <- s$vectors[, keep, drop = FALSE] %*%
      (t(s$vectors[, keep, drop = FALSE]) / sqrt(s$values[keep]))
    A <- t(D) %*% root %*% D
    list(j = j, g = t(R[j, , drop = FALSE]) %*% t(A) %*% WX[j, , drop = FALSE] %*% C[, columns, drop = FALSE],
         h = C[columns, , drop = FALSE] %*% t(WX[j, , drop = FALSE]) %*% A %*% e[j])
  })
  q <- length(columns)
  Omega <- Reduce("+", lapply(one, function(x) t(x$g) %*% M %*% x$g))
  s <- eigen((Omega + t(Omega)) / 2, symmetric = TRUE)
  S <- s$vectors %*% (t(s$vectors) / sqrt(s$values))
  z <- lapply(one, function(x) x$g %*% S)
  total <- 0
  for (a in z) for (c in z) {
    P <- t(a) %*% M %*% c
    # Var of entry (s, t): sum over pairs of P_ss P_tt + P_st P_ts
    total <- total + sum(outer(diag(P), diag(P))) + sum(P * t(P))
  }
  eta <- q * (q + 1) / total
  VR <- Reduce("+", lapply(one, function(x) x$h %*% t(x$h)))
  wald <- sum(b[columns] * solve(VR, b[columns]))
  c((eta - q + 1) / (eta * q) * wald, eta - q + 1)
}
`;
