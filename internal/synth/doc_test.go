// Package synth makes daily weather that never happened: seeded, of a published
// kind, for the demonstration region and for tests of scale. [Hourly] lays a
// forecast's days out in hours, by a design of our own.
//
// The generator is that of Richardson, C.W. (1981), Stochastic simulation of
// daily precipitation, temperature, and solar radiation, Water Resources
// Research 17(1):182–190: a two-state Markov chain of wet and dry days, and
// maximum and minimum temperature as seasonal means that depend on wet or dry
// plus residuals of a first-order autoregression. Its parts:
//
//   - seasonal parameters as harmonics of the year ([Wave]): Richardson (1981);
//   - rain of a wet day as a mixture of two exponentials: Woolhiser, D.A.,
//     Roldán, J. (1982), Stochastic daily precipitation models, 2. A comparison
//     of distributions of amounts, Water Resources Research 18(5):1461–1468
//     (from memory; Richardson himself used one exponential);
//   - the matrices of the residuals: Richardson, C.W., Wright, D.A. (1984),
//     WGEN: A model for generating daily weather variables, USDA Agricultural
//     Research Service, ARS-8;
//   - several stations under one sky, by correlated normal deviates behind
//     every draw: Wilks, D.S. (1998), Multisite generalization of a daily
//     stochastic precipitation generation model, Journal of Hydrology
//     210:178–191 (from memory; one common factor in place of his matrix of
//     correlations is own design).
//
// What such weather lacks, and real weather has: trends, slow swings from year
// to year, storms that move. It is fit to show how a page works, not to test
// whether its advice is right.
//
// Output is a pure function of the arguments. Random bits come from the PCG
// generator of math/rand/v2, whose stream for a given seed the standard library
// holds fixed; everything above the bits is here.
package synth
