package site

// policy is the wall around the page: it can run our program and talk to its own
// address, nothing else. It stands in the page itself, for hosts that send no
// headers of ours.
const policy = "default-src 'none'; script-src 'self' 'wasm-unsafe-eval'; style-src 'self'; img-src 'self' data: blob:; " +
	"connect-src 'self'; manifest-src 'self'; worker-src 'self'; base-uri 'none'; form-action 'none'; " +
	// Where the browser has Trusted Types, only the policy in boot.js makes of a text the
	// address of a script, and none makes a script of one.
	"require-trusted-types-for 'script'; trusted-types default"

// Headers are what a host should send with every answer. The site works without
// them; DEVELOPERS.md says what each is for.
var Headers = [][2]string{
	// A page cannot forbid by itself that it is shown inside another one.
	{"Content-Security-Policy", policy + "; frame-ancestors 'none'"},
	{"X-Content-Type-Options", "nosniff"},
	{"Referrer-Policy", "no-referrer"},
	{"Cross-Origin-Opener-Policy", "same-origin"},
	{"Cross-Origin-Resource-Policy", "same-origin"},
	{"Permissions-Policy", "camera=(), geolocation=(), microphone=()"},
	// Ask whether it changed, every time: a stale copy of a page or of sw.js would
	// keep an update away. It costs little, since after the first visit the store
	// on the device answers.
	{"Cache-Control", "no-cache"},
}
