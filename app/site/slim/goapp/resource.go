package app

import "strings"

// The functions below are go-app's own (MIT licence, Maxence Charriere): the part
// of resource.go that runs in the browser.

func clientResourceResolver(resourcesLocation string) func(string) string {
	return func(location string) string {
		if remoteLocation(location) || !webLocation(location) {
			return location
		}
		location = strings.Trim(location, "/")
		return resourcesLocation + "/" + strings.TrimPrefix(location, "web/")
	}
}

func resolveOGResource(domain string, location string) string {
	if remoteLocation(location) {
		return location
	}
	return "https://" + domain + strings.TrimRight("/"+strings.Trim(location, "/"), "/")
}

func remoteLocation(location string) bool {
	return strings.HasPrefix(location, "https://") ||
		strings.HasPrefix(location, "http://")
}

func isRemoteLocation(path string) bool { return remoteLocation(path) }

func webLocation(location string) bool {
	return strings.HasPrefix(location, "/web/") ||
		location == "/web" ||
		strings.HasPrefix(location, "web/") ||
		location == "web"
}
