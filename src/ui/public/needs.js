/* What the app cannot do without; plain and old on purpose, so that a browser without it can still read this file. */
(function () {
  function has(test) {
    try {
      return Boolean(test());
    } catch (error) {
      void error;
      return false;
    }
  }
  var missing = [];
  function need(name, test) {
    if (!has(test)) missing.push(name);
  }
  need('CompressionStream', function () {
    return typeof CompressionStream === 'function' && typeof DecompressionStream === 'function';
  });
  need('Array.prototype.toReversed', function () {
    return Array.prototype.toReversed && Array.prototype.findLast;
  });
  need('lookbehind in regular expressions', function () {
    return new RegExp('(?<!a)b').test('b');
  });
  need('indexedDB', function () {
    return 'indexedDB' in window;
  });
  if (missing.length === 0) return;
  document.documentElement.setAttribute('data-missing', missing.join(', '));
  document.getElementById('too-old').hidden = false;
})();
