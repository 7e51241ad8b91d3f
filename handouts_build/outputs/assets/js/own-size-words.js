/* Words with values put in, and what can be wrong with a size, in words. The words themselves come with the page's
   data. It is the first of the own-size scripts: each of the others adds its part to what is begun here. */
(() => {
  "use strict";

  /**
   * @param {string} words A name in curly brackets stands for a value.
   * @param {Record<string, string | number>} values
   */
  const fill = (words, values) => words.replace(/\{(\w+)\}/g, (whole, name) => Object.hasOwn(values, name) ? String(values[name]) : whole);

  /* A message is worded as the command line words it, for the author; `told` says the same to a reader, who knows
     what a size is for and not what the file calls it. */
  class Fault {
    /**
     * @param {string} message
     * @param {string} [hint]
     * @param {string} [told]
     * @param {string} [offers]
     */
    constructor(message, hint = "", told = message, offers) {
      this.message = message;
      this.hint = hint;
      this.told = told;
      this.offers = offers;
    }
  }

  window.handoutsOwnSize = /** @type {OwnSize} */ ({ fill, Fault });
})();
