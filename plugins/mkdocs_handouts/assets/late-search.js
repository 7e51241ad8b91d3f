/* The theme asks for its search with every page: the worker, and the index of all pages. Here both wait until the
   search is opened, or an address has a query or words to mark; and the worker is ours, which loads the index in
   parts. It stands before the theme's own script, and after what stands in for `Worker` on a disk. */
(() => {
  "use strict";

  const INDEX = /\/search\/search_index\.js(?:on)?$/, WORKER = /\/workers\/search\.[^/]*$/;

  const ours = new URL("search.js", /** @type {HTMLScriptElement} */ (document.currentScript).src).href;

  /** @type {(() => void)[] | null} What is to be done when the search is opened; nothing waits once it is. */
  let waiting = /[?&][qh]=/.test(location.search) ? null : [];
  /** @param {() => void} act */
  const late = (act) => {
    if (waiting) waiting.push(act);
    else act();
  };
  const opened = () => {
    const acts = waiting ?? [];
    waiting = null;
    for (const act of acts) act();
  };
  /** @param {Event} event */
  const look = ({ target }) => { if (target instanceof Element && target.matches("#__search, [data-md-component=search-query]")) opened(); };
  for (const kind of ["focusin", "change"]) document.addEventListener(kind, look);

  /* A worker in all that the theme asks of one. */
  class LateWorker extends EventTarget {
    /** @param {() => Worker} make */
    constructor(make) {
      super();
      /** @type {Worker | null} */
      this.worker = null;
      late(() => {
        this.worker = make();
        this.worker.addEventListener("message", ({ data }) => this.dispatchEvent(new MessageEvent("message", { data })));
        this.worker.addEventListener("error", ({ message, error }) => this.dispatchEvent(new ErrorEvent("error", { message, error })));
      });
    }

    /** @param {unknown} data */
    postMessage(data) {
      late(() => this.worker?.postMessage(data));
    }

    terminate() {
      late(() => this.worker?.terminate());
    }
  }
  window.Worker = new Proxy(window.Worker, {
    construct: (Plain, [address, options]) => WORKER.test(String(address)) ? new LateWorker(() => new Plain(ours, options)) : new Plain(address, options)
  });

  /* The index where the site is served … */
  const Plain = window.XMLHttpRequest;
  window.XMLHttpRequest = class extends Plain {
    /**
     * @override
     * @param {string} method
     * @param {string | URL} address
     * @param {boolean} [async]
     * @param {string | null} [user]
     * @param {string | null} [password]
     */
    open(method, address, async = true, user, password) {
      this.isIndex = INDEX.test(new URL(address, document.baseURI).pathname);
      super.open(method, address, async, user, password);
    }

    /**
     * @override
     * @param {Document | XMLHttpRequestBodyInit | null} [body]
     */
    send(body) {
      if (this.isIndex) late(() => super.send(body));
      else super.send(body);
    }
  };

  /* … and on a disk, where it is a script. */
  const { head } = document, append = head.appendChild.bind(head);
  head.appendChild = (node) => {
    if (node instanceof HTMLScriptElement && INDEX.test(new URL(node.src).pathname)) {
      late(() => append(node));
      return node;
    }
    return append(node);
  };
})();
