// Package diagnose goes from readings to ranked conditions: Bayes' rule over
// simulated cars, with what each reading contributed and which measurement
// would help most.
package diagnose
