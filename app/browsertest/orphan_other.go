//go:build !js && !linux

package browsertest

import "syscall"

// notWithoutUs: see orphan_linux.go; elsewhere a child outlives a test that was killed.
func notWithoutUs() *syscall.SysProcAttr { return nil }
