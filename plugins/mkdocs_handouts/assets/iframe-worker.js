/* Browsers refuse worker scripts to a page opened from a disk. There, and only there, this
   stands in for `Worker`: it runs the script in a hidden frame and passes messages as they are. */
(function () {
  "use strict";
  if (location.protocol !== "file:") return;

  function FrameWorker(address) {
    var worker = new EventTarget();
    var base = new URL(address, document.baseURI).href;
    var frame = document.createElement("iframe");
    var waiting = [];
    var inside = null;

    function deliver(data) {
      inside.dispatchEvent(new MessageEvent("message", { data: data }));
    }

    worker.onmessage = null;
    worker.onerror = null;
    worker.postMessage = function (data) {
      var copy = structuredClone(data);
      if (inside) deliver(copy);
      else waiting.push(copy);
    };
    worker.terminate = function () {
      frame.remove();
      inside = null;
    };

    function tell(type, event) {
      worker.dispatchEvent(event);
      var handler = worker["on" + type];
      if (handler) handler.call(worker, event);
    }

    /* Scripts named by importScripts load one after another, in order, as they would in a worker. */
    function load(scope, addresses) {
      return addresses.reduce(function (before, one) {
        return before.then(function () {
          return new Promise(function (done, failed) {
            var script = scope.document.createElement("script");
            script.src = new URL(one, base).href;
            script.onload = done;
            script.onerror = function () { failed(new Error("cannot load " + one)); };
            scope.document.body.appendChild(script);
          });
        });
      }, Promise.resolve());
    }

    frame.hidden = true;
    frame.title = "Search";
    document.body.appendChild(frame);
    var scope = frame.contentWindow;
    /* Writing to the frame keeps a browser from replacing its first, empty document later on. */
    scope.document.open();
    scope.document.write("<!doctype html><title>Search</title><body></body>");
    scope.document.close();
    scope.postMessage = function (data) {
      /* A worker answers later, never while it is still being asked. */
      setTimeout(function () { tell("message", new MessageEvent("message", { data: data })); });
    };
    scope.importScripts = function () { return load(scope, Array.prototype.slice.call(arguments)); };
    scope.addEventListener("error", function (event) {
      tell("error", new ErrorEvent("error", { message: event.message, error: event.error }));
    });
    load(scope, [base]).then(function () {
      inside = scope;
      waiting.splice(0).forEach(deliver);
    }, function (error) {
      tell("error", new ErrorEvent("error", { message: error.message, error: error }));
    });
    return worker;
  }

  window.Worker = FrameWorker;
})();
