// The shop's files, for forms that fill them in.
#pragma once

#include "shop/save_shop.h"

namespace pommel::job {

using ShopKeys = shop::KeyPath;
using shop::keys_at;
using shop::list_at;
using shop::save_file;
using shop::sound_file;
using shop::Stated;
using shop::StatedLists;
using shop::value_at;
using shop::with_lists;
using shop::with_values;

}  // namespace pommel::job
