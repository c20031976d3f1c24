"""Whether the frame is strong enough: stringers, cross members, boards, joints, lags, and lifting. Preliminary."""
