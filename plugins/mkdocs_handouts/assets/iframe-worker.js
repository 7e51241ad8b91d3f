/* Browsers refuse worker scripts to a page opened from a disk. There, and only there, this
   stands in for `Worker`: it runs the script in a hidden frame and passes messages as they are. */
(() => {
  "use strict";
  if (location.protocol !== "file:") return;

  /* Scripts named by importScripts load one after another, in order, as they would in a worker. */
  /** @type {(scope: Window, base: string, addresses: string[]) => Promise<void>} */
  const load = async (scope, base, addresses) => {
    for (const address of addresses) {
      await new Promise((done, failed) => {
        const script = scope.document.createElement("script");
        script.src = new URL(address, base).href;
        script.addEventListener("load", done);
        script.addEventListener("error", () => failed(new Error("cannot load " + address)));
        scope.document.body.append(script);
      });
    }
  };

  class FrameWorker extends EventTarget {
    /** @param {string | URL} address */
    constructor(address) {
      super();
      /** @type {((event: MessageEvent) => unknown) | null} */
      this.onmessage = null;
      /** @type {((event: ErrorEvent) => unknown) | null} */
      this.onerror = null;
      /** @type {unknown[]} Messages that came before the script was there. */
      this.waiting = [];
      /** @type {Window | null} */
      this.inside = null;
      this.frame = document.createElement("iframe");
      this.frame.hidden = true;
      this.frame.title = "Search";
      document.body.append(this.frame);
      void this.run(new URL(address, document.baseURI).href);
    }

    /** @param {string} base */
    async run(base) {
      const scope = /** @type {WorkerFrame} */ (this.frame.contentWindow);
      /* Writing to the frame keeps a browser from replacing its first, empty document later on. */
      scope.document.open();
      scope.document.write("<!doctype html><title>Search</title><body></body>");
      scope.document.close();
      /* A worker answers later, never while it is still being asked. */
      scope.postMessage = (/** @type {unknown} */ data) => { setTimeout(() => this.tell(new MessageEvent("message", { data }))); };
      scope.importScripts = (...addresses) => load(scope, base, addresses);
      scope.addEventListener("error", ({ message, error }) => this.tell(new ErrorEvent("error", { message, error })));
      try {
        await load(scope, base, [base]);
        this.inside = scope;
        this.waiting.splice(0).forEach((data) => this.deliver(scope, data));
      } catch (error) {
        this.tell(new ErrorEvent("error", { message: error instanceof Error ? error.message : String(error), error }));
      }
    }

    /** @type {(scope: Window, data: unknown) => void} */
    deliver(scope, data) {
      scope.dispatchEvent(new MessageEvent("message", { data }));
    }

    /** @param {MessageEvent | ErrorEvent} event */
    tell(event) {
      this.dispatchEvent(event);
      if (event instanceof MessageEvent) this.onmessage?.(event);
      else this.onerror?.(event);
    }

    /** @param {unknown} data */
    postMessage(data) {
      const copy = structuredClone(data);
      if (this.inside) this.deliver(this.inside, copy);
      else this.waiting.push(copy);
    }

    terminate() {
      this.frame.remove();
      this.inside = null;
    }
  }

  window.Worker = /** @type {typeof Worker} */ (/** @type {unknown} */ (FrameWorker));
})();
