"""
How stock circle finders do on the scenes of bench/marks-scenes.ts. Debian 12: OpenCV 4.6.0, scikit-image 0.19.3, numpy 1.24.2, scipy 1.10.1.

    node bench/marks-scenes.ts FOLDER plain 301 302
    python3 bench/peers/circles.py [--tune] FOLDER/plain-301.f32 ...

template   cv2.matchTemplate, normalised, 12 radii, on a dark-ridge image; our own z-score across radii and peak picking
hough      skimage.transform.hough_circle, 12 radii one at a time, on the skeleton of a thresholded dark-ridge image; the same picking
canny      the same on Canny edges
gradient   cv2.HoughCircles, HOUGH_GRADIENT; its own order is the rank
gradient-alt  cv2.HoughCircles, HOUGH_GRADIENT_ALT
--tune tries the settings of each on the scenes given and prints the best; the settings below came from plain 101 and 102, the best of those listed
under TRIED for template and hough; those of the other three were not tuned.
Prints one JSON line a scene and method. Times: one run, local relief to candidates, reading left out.
"""
import itertools
import json
import sys
import time

import cv2
import numpy as np
from scipy.ndimage import gaussian_filter, maximum_filter
from skimage.feature import canny, hessian_matrix, hessian_matrix_eigvals
from skimage.morphology import skeletonize
from skimage.transform import hough_circle

RADII = np.geomspace(9, 42, 12)
SETTINGS = {
    'template': {'sigma': 1.2, 'width': 2},
    'hough': {'sigma': 1.5, 'share': 0.06, 'soft': 0.7},
    'canny': {'sigma': 3.0, 'share': 0.9, 'soft': 1.5},
    'gradient': {'blur': 2.0, 'param1': 60, 'param2': 12},
    'gradient-alt': {'blur': 2.0, 'param1': 60, 'param2': 0.4},
}
TRIED = {
    # Of these two also their neighbours beyond the edge: sigma 1.2, width 2, soft 0.7.
    'template': {'sigma': [1.5, 2.0, 2.5], 'width': [3, 4, 6]},
    'hough': {'sigma': [1.5, 2.0, 2.5], 'share': [0.04, 0.06, 0.1], 'soft': [1.0, 1.5, 2.0]},
    'canny': {'sigma': [2.0, 3.0], 'share': [0.85, 0.9, 0.95], 'soft': [1.0, 1.5]},
    'gradient': {'blur': [1.5, 2.0, 3.0], 'param1': [30, 60, 100], 'param2': [10, 12, 16]},
    'gradient-alt': {'blur': [2.0, 3.0], 'param1': [30, 60], 'param2': [0.3, 0.4, 0.5]},
}
MOST = 400


def relief(image):
    return image - cv2.GaussianBlur(image, (0, 0), 20)


def ridge(image, sigma):
    second = hessian_matrix(image, sigma=sigma, order='rc', mode='nearest')
    return np.maximum(hessian_matrix_eigvals(second)[0], 0).astype(np.float32)


def pick(maps):
    """Peaks of the best z-score over radii, strongest first, 9 px apart at least."""
    best = np.full(maps[0].shape, -np.inf, np.float32)
    which = np.zeros(best.shape, np.int32)
    for i, one in enumerate(maps):
        z = (one - one.mean()) / one.std()
        better = z > best
        best[better] = z[better]
        which[better] = i
    rows, columns = np.nonzero((best == maximum_filter(best, 9)) & (best > 3))
    order = np.argsort(-best[rows, columns])[: 4 * MOST]
    kept = []
    for i in order:
        x, y, r = columns[i] + 0.5, rows[i] + 0.5, RADII[which[rows[i], columns[i]]]
        if all(np.hypot(x - a, y - b) > 0.6 * max(r, c) for a, b, c in kept):
            kept.append((x, y, r))
        if len(kept) == MOST:
            break
    return kept


def template(image, sigma, width):
    lines = ridge(relief(image), sigma)
    maps = []
    for r in RADII:
        half = int(np.ceil(r + width))
        ring = np.zeros((2 * half + 1, 2 * half + 1), np.float32)
        grid = np.hypot(*np.mgrid[-half : half + 1, -half : half + 1]) - r
        ring = np.exp(-(grid**2) / (2 * (width / 2.355) ** 2)).astype(np.float32)
        inner = cv2.matchTemplate(lines, ring, cv2.TM_CCOEFF_NORMED)
        whole = np.zeros(image.shape, np.float32)
        whole[half : half + inner.shape[0], half : half + inner.shape[1]] = inner
        maps.append(whole)
    return pick(maps)


def voted(mask, soft):
    maps = []
    for r in RADII:
        votes = hough_circle(mask, [int(round(r))], normalize=True)[0].astype(np.float32)
        maps.append(gaussian_filter(votes, soft))
    return pick(maps)


def hough(image, sigma, share, soft):
    lines = ridge(relief(image), sigma)
    return voted(skeletonize(lines > np.quantile(lines, 1 - share)), soft)


def canny_votes(image, sigma, share, soft):
    edges = canny(relief(image), sigma=sigma, low_threshold=share - 0.1, high_threshold=share, use_quantiles=True)
    return voted(edges, soft)


def circles(image, method, blur, param1, param2):
    flat = cv2.GaussianBlur(relief(image), (0, 0), blur)
    grey = np.clip(128 + 40 * flat / flat.std(), 0, 255).astype(np.uint8)
    # Debian's OpenCV takes minutes over some settings: the number of circles is kept small by the distance between them.
    found = cv2.HoughCircles(grey, method, 1, 12, param1=param1, param2=param2, minRadius=9, maxRadius=42)
    return [] if found is None else [tuple(c) for c in found[0][:MOST]]


METHODS = {
    'template': template,
    'hough': hough,
    'canny': canny_votes,
    'gradient': lambda image, **s: circles(image, cv2.HOUGH_GRADIENT, **s),
    'gradient-alt': lambda image, **s: circles(image, cv2.HOUGH_GRADIENT_ALT, **s),
}


def judge(found, rings):
    """As bench/scenes/judge.ts."""
    taken, hits = set(), []
    for x, y, r in found:
        best, least = -1, np.inf
        for i, ring in enumerate(rings):
            off = np.hypot(ring['x'] - x, ring['y'] - y)
            near = off <= 0.4 * ring['radius'] and abs(r - ring['radius']) <= 0.2 * ring['radius']
            if near and i not in taken and off < least:
                best, least = i, off
        if best >= 0:
            taken.add(best)
        hits.append(best)
    right = precision = 0
    f1, at, one = 0.0, 0, 0.0
    for i, hit in enumerate(hits):
        if hit >= 0:
            right += 1
            precision += right / (i + 1)
        if 2 * right / (i + 1 + len(rings)) > f1:
            f1, at = 2 * right / (i + 1 + len(rings)), i + 1
        if i + 1 - right <= 1:
            one = right / len(rings)
    got = {hit for hit in hits[:at] if hit >= 0}
    recall = lambda broken: sum(i in got for i, r in enumerate(rings) if (r['missing'] > 0) == broken) / max(
        1, sum((r['missing'] > 0) == broken for r in rings)
    )
    return {
        'ap': round(precision / len(rings), 4),
        'f1': round(f1, 3),
        'oneFalse': round(one, 3),
        'whole': round(recall(False), 3),
        'broken': round(recall(True), 3),
    }


def read(name):
    with open(name.replace('.f32', '.json')) as file:
        told = json.load(file)
    side = told['side']
    return np.fromfile(name, '<f4').reshape(side, side), told['rings']


def main(words):
    scenes = [(name, *read(name)) for name in words if name.endswith('.f32')]
    wanted = [word[2:] for word in words if word.startswith('--') and word != '--tune'] or list(METHODS)
    for method in wanted:
        if '--tune' in words:
            tried = TRIED[method]
            results = []
            for values in itertools.product(*tried.values()):
                settings = dict(zip(tried, values))
                start = time.perf_counter()
                aps = [judge(METHODS[method](image, **settings), rings)['ap'] for _, image, rings in scenes]
                results.append((float(np.mean(aps)), settings))
                print(method, settings, round(float(np.mean(aps)), 4), round(time.perf_counter() - start, 1), flush=True)
            print('best', method, *max(results, key=lambda each: each[0]), flush=True)
            continue
        for name, image, rings in scenes:
            start = time.perf_counter()
            found = METHODS[method](image, **SETTINGS[method])
            seconds = time.perf_counter() - start
            print(json.dumps({'method': method, 'scene': name.split('/')[-1], **judge(found, rings), 'seconds': round(seconds, 2)}), flush=True)


if __name__ == '__main__':
    main(sys.argv[1:])
