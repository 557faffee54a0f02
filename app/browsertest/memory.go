//go:build !js

package browsertest

import (
	"context"
	"encoding/json"
	"fmt"

	"github.com/chromedp/cdproto/cdp"
	"github.com/chromedp/cdproto/heapprofiler"
	"github.com/chromedp/cdproto/performance"
	"github.com/chromedp/cdproto/runtime"
	"github.com/chromedp/chromedp"
)

// Memory is what a page holds after its garbage was collected.
type Memory struct {
	Script, Program  float64 // MiB: the heap of scripts, the memory of the program
	Nodes, Listeners float64 // nodes: with some thousands that the browser has yet to free
}

func (m Memory) String() string {
	return fmt.Sprintf("scripts %.1f MiB, program %.1f MiB, %.0f nodes, %.0f listeners", m.Script, m.Program, m.Nodes, m.Listeners)
}

// Memory measures what the page holds now.
func (p *Page) Memory() Memory {
	p.t.Helper()
	var m Memory
	p.call("measuring memory", func(ctx context.Context) error {
		if _, err := chromedp.Call(ctx, performance.Enable, performance.EnableParams{}); err != nil {
			return err
		}
		for range 2 { // what the first frees of elements may free scripts' objects
			if _, err := chromedp.Call(ctx, heapprofiler.CollectGarbage, cdp.Empty{}); err != nil {
				return err
			}
		}
		got, err := chromedp.Call(ctx, performance.GetMetrics, cdp.Empty{})
		if err != nil {
			return err
		}
		for _, k := range got.Metrics {
			switch k.Name {
			case "JSHeapUsedSize":
				m.Script = k.Value / (1 << 20)
			case "Nodes":
				m.Nodes = k.Value
			case "JSEventListeners":
				m.Listeners = k.Value
			}
		}
		m.Program, err = programMemory(ctx)
		return err
	})
	return m
}

// programMemory is the size in MiB of every memory of WebAssembly that scripts hold; the
// program's has no name in the page.
func programMemory(ctx context.Context) (float64, error) {
	prototype, err := chromedp.Call(ctx, runtime.Evaluate, runtime.EvaluateParams{Expression: "WebAssembly.Memory.prototype"})
	if err != nil {
		return 0, err
	}
	all, err := chromedp.Call(ctx, runtime.QueryObjects, runtime.QueryObjectsParams{PrototypeObjectID: prototype.Result.ObjectID})
	if err != nil {
		return 0, err
	}
	// What was found is held until it is let go.
	defer chromedp.Call(ctx, runtime.ReleaseObject, runtime.ReleaseObjectParams{ObjectID: all.Objects.ObjectID})
	yes := true
	got, err := chromedp.Call(ctx, runtime.CallFunctionOn, runtime.CallFunctionOnParams{
		FunctionDeclaration: "function() { return this.reduce((sum, m) => sum + m.buffer.byteLength, 0) / 2**20; }",
		ObjectID:            all.Objects.ObjectID, ReturnByValue: &yes})
	if err != nil {
		return 0, err
	}
	var size float64
	err = json.Unmarshal(got.Result.Value, &size)
	return size, err
}
