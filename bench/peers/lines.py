"""
How stock line finders do on the scenes of bench/marks-lines.ts. Debian 12: OpenCV 4.6.0, scikit-image 0.19.3, numpy 1.24.2, scipy 1.10.1.

    node bench/marks-lines.ts --write FOLDER plain 1001 1002
    python3 bench/peers/lines.py OUT.json FOLDER/plain-1001.f32 ...
    node bench/marks-lines.ts --judge OUT.json

lsd    cv2.createLineSegmentDetector on the smoothed relief (von Gioi et al. 2010, IEEE PAMI 32); the two edges of a line lie within the tolerance; longest first
hough  skimage ridge of either sign (Hessian, one scale), thresholded at a quantile, skeletonize, probabilistic_hough_line; longest first
Settings are the best of those under TRIED on plain 101 (--tune tries all). Prints nothing else; times are one run, relief to lines.
"""
import itertools
import json
import re
import sys
import time

import cv2
import numpy as np
from skimage.feature import hessian_matrix, hessian_matrix_eigvals
from skimage.morphology import remove_small_objects, skeletonize
from skimage.transform import probabilistic_hough_line

SETTINGS = {
    'lsd': {'blur': 1.0, 'scale': 0.5},
    'hough': {'sigma': 3.0, 'share': 0.06, 'least': 20},
}
TRIED = {
    'lsd': {'blur': [1.0, 2.0, 3.0], 'scale': [0.5, 0.8]},
    'hough': {'sigma': [1.5, 2.0, 3.0], 'share': [0.03, 0.06], 'least': [20, 40]},
}


def relief(image):
    return image - cv2.GaussianBlur(image, (0, 0), 20)


def longest_first(lines):
    return sorted(lines, key=lambda l: -np.hypot(l[2] - l[0], l[3] - l[1]))


def lsd(image, blur, scale):
    flat = cv2.GaussianBlur(relief(image), (0, 0), blur)
    grey = np.clip(128 + 40 * flat / flat.std(), 0, 255).astype(np.uint8)
    found = cv2.createLineSegmentDetector(cv2.LSD_REFINE_STD, scale).detect(grey)[0]
    lines = [] if found is None else [[float(v) + 0.5 for v in line[0]] for line in found]
    return longest_first([l for l in lines if np.hypot(l[2] - l[0], l[3] - l[1]) >= 16])


def hough(image, sigma, share, least):
    second = hessian_matrix(relief(image), sigma=sigma, order='rc', mode='nearest')
    high, low = hessian_matrix_eigvals(second)
    lines = []
    for ridge in (high, -low):
        thin = skeletonize(ridge > np.quantile(ridge, 1 - share))
        thin = remove_small_objects(thin, 12, connectivity=2)
        for a, b in probabilistic_hough_line(thin, threshold=10, line_length=least, line_gap=3, seed=1):
            lines.append([a[0] + 0.5, a[1] + 0.5, b[0] + 0.5, b[1] + 0.5])
    return longest_first(lines)


METHODS = {'lsd': lsd, 'hough': hough}


def main(out, words):
    results = []
    for name in (word for word in words if word.endswith('.f32')):
        image = np.fromfile(name, '<f4')
        side = int(round(image.size**0.5))
        image = image.reshape(side, side)
        kind, seed = re.match(r'.*?([a-z]+)-(\d+)\.f32$', name).groups()
        for method, run in METHODS.items():
            tries = [dict(zip(TRIED[method], values)) for values in itertools.product(*TRIED[method].values())]
            for settings in tries if '--tune' in words else [SETTINGS[method]]:
                start = time.perf_counter()
                lines = run(image, **settings)
                seconds = round(time.perf_counter() - start, 2)
                label = f'{method} {json.dumps(settings)}' if '--tune' in words else method
                results.append({'method': label, 'kind': kind, 'seed': int(seed), 'seconds': seconds, 'lines': lines[:1000]})
    with open(out, 'w') as file:
        json.dump(results, file)


if __name__ == '__main__':
    main(sys.argv[1], sys.argv[2:])
