// SPDX-License-Identifier: GPL-3.0-or-later
// A host in C++ that knows hankful.h alone: folder TABLES PROJECT OTHER. Reads a project folder, prints its roles, yarns, swatches and
// what it needs, and passes the library stages that do not belong together, each of which must be refused.
#include <hankful.h>

#include <cstdio>
#include <memory>

namespace {

template <typename T, void (*Free)(T *)> struct Freed {
    void operator()(T *stage) const { Free(stage); }
};
template <typename T, void (*Free)(T *)> using Owned = std::unique_ptr<T, Freed<T, Free>>;

using Design = Owned<hk_design, hk_design_free>;
using Shop = Owned<hk_shop, hk_shop_free>;
using TimeFit = Owned<hk_time_fit, hk_time_fit_free>;
using Hours = Owned<hk_hours, hk_hours_free>;
using Quote = Owned<hk_quote, hk_quote_free>;

struct Diags {
    hk_diags list = {};
    Diags() = default;
    Diags(const Diags &) = delete;
    Diags &operator=(const Diags &) = delete;
    ~Diags() { hk_diags_free(&list); }
    void print()
    {
        hk_diags_sort(&list);
        for (std::size_t i = 0; i < hk_diags_count(&list); i++) {
            const hk_finding *finding = hk_diags_finding(&list, i);
            std::printf("%s: %s: %s\n", finding->at.file ? finding->at.file : "", hk_code_name(finding->code), finding->message);
        }
    }
};

Design design_of(const char *tables_path, const char *path)
{
    Diags diags;
    const hk_source tables = hk_source_inside(tables_path), folder = hk_source_folder(path);
    Design design(hk_design_read(&tables, &folder, hk_need_defaults(), &diags.list));
    if (!design)
        diags.print();
    return design;
}

void print_project(const hk_design *design)
{
    const hk_project *project = hk_design_project(design);
    std::printf("%s\n", hk_project_title(project));
    for (std::size_t i = 0; i < hk_project_roles(project); i++)
        std::printf("role %s: %s\n", hk_project_role(project, i).name, hk_project_role(project, i).yarn);
    for (std::size_t i = 0; i < hk_project_yarns(project); i++)
        std::printf("yarn %s: %s g\n", hk_project_yarn(project, i).name, hk_number_text(hk_project_yarn(project, i).put_up_g, 4).text);
    for (std::size_t i = 0; i < hk_project_swatches(project); i++)
        std::printf("swatch %s: %s\n", hk_project_swatch(project, i).name, hk_project_swatch(project, i).fabric);
    const hk_need *need = hk_design_need(design);
    for (std::size_t i = 0; i < need->role_count; i++)
        std::printf("%s, %s: %lld balls\n", need->roles[i].size_name, need->roles[i].role_name,
                    static_cast<long long>(need->roles[i].balls));
}

Hours hours_of(const hk_design *design)
{
    Diags diags;
    TimeFit fit(hk_fit_time(hk_design_tally(design), &diags.list));
    Hours hours(fit ? hk_hours_predict(fit.get(), HK_NO_SIZE, &diags.list) : nullptr);
    if (!hours)
        diags.print();
    return hours;
}

// Whether just one finding, and no quote, comes of these stages.
bool refused(const hk_need *need, const hk_shop *shop, const hk_hours *hours)
{
    Diags diags;
    Quote quote(hk_quote_make(need, shop, hours, hk_quote_defaults(HK_QUESTION_COMMISSION), &diags.list));
    const bool good = !quote && hk_diags_count(&diags.list) == 1 && hk_diags_errors(&diags.list) == 1;
    diags.print();
    return good;
}

Shop shop_of(const hk_need *need, bool together)
{
    Diags diags;
    hk_shop_options options = hk_shop_defaults();
    options.together = together;
    Shop shop(hk_shop_plan(need, options, &diags.list));
    if (!shop)
        diags.print();
    return shop;
}

} // namespace

int main(int argc, char **argv)
{
    hk_gsl_errors_off();
    if (argc != 4)
        return 1;
    const Design design = design_of(argv[1], argv[2]), other = design_of(argv[1], argv[3]);
    if (!design || !other)
        return 1;
    print_project(design.get());
    const hk_need *need = hk_design_need(design.get());
    const Hours hours = hours_of(design.get()), other_hours = hours_of(other.get());
    const Shop shop = shop_of(need, false), together = shop_of(need, true), other_shop = shop_of(hk_design_need(other.get()), false);
    if (!hours || !other_hours || !shop || !together || !other_shop)
        return 1;
    bool good = refused(need, other_shop.get(), hours.get());
    good = refused(need, together.get(), hours.get()) && good;
    good = refused(need, nullptr, hours.get()) && good;
    good = refused(need, shop.get(), other_hours.get()) && good;
    return good ? 0 : 1;
}
