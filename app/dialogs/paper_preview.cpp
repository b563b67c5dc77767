// SPDX-License-Identifier: GPL-3.0-or-later
#include "app/dialogs/paper_preview.h"

#include "app/dialogs/calm_combo_box.h"
#include "app/dialogs/choose_file.h"
#include "app/dialogs/plain_label.h"
#include "app/dialogs/wait_shown.h"
#include "app/print/page_furniture.h"

#include <QHBoxLayout>
#include <QListWidget>
#include <QPrintDialog>
#include <QPrintPreviewWidget>
#include <QPrinter>
#include <QPushButton>
#include <QShortcut>
#include <QVBoxLayout>

#include <algorithm>
#include <utility>

namespace keyround {

PaperPreview::PaperPreview(Session &session, PreviewJob job, QWidget *parent)
    : QWidget(parent), m_session(session), m_job(std::move(job)),
      m_printer(std::make_unique<QPrinter>(QPrinter::ScreenResolution)),
      m_choices(new QListWidget(this)), m_where(plainCaption({}, QStringLiteral("quiet"), this)),
      m_refusal(plainLabel({}, QStringLiteral("refusal"), this))
{
    setWindowTitle(m_job.title);
    m_printer->setPageLayout(pageLayoutFor(furnitureOf(session), m_job.options));
    m_pages = new QPrintPreviewWidget(m_printer.get(), this);
    m_pages->setObjectName(QStringLiteral("previewPages"));
    m_pages->setAccessibleName(tr("Pages"));
    m_pages->fitInView();
    connect(m_pages, &QPrintPreviewWidget::paintRequested, this, &PaperPreview::paint);
    connect(m_pages, &QPrintPreviewWidget::previewChanged, this, &PaperPreview::refreshPage);
    m_choices->setObjectName(QStringLiteral("previewChoices"));
    m_choices->setAccessibleName(tr("What goes into the packet"));
    m_choices->setFixedWidth(200);
    for (const QString &choice : m_job.choices) {
        auto *item = new QListWidgetItem(choice, m_choices);
        item->setFlags(Qt::ItemIsEnabled | Qt::ItemIsUserCheckable | Qt::ItemIsSelectable);
        item->setCheckState(Qt::Checked);
    }
    m_choices->setVisible(!m_job.choices.isEmpty());
    connect(m_choices, &QListWidget::itemChanged, this, &PaperPreview::make);
    // Another project has another paper.
    connect(&session.notifier(), &Notifier::projectAboutToChange, this, [this] {
        m_parts.clear();
        close();
    });
    auto *middle = new QHBoxLayout;
    middle->addWidget(m_choices);
    middle->addWidget(m_pages, 1);
    auto *layout = new QVBoxLayout(this);
    layout->addWidget(buildBar());
    if (m_job.pick) {
        layout->addWidget(buildPick());
    }
    layout->addWidget(m_refusal);
    layout->addLayout(middle, 1);
    make();
}

PaperPreview::~PaperPreview() = default;

PaperPreview *PaperPreview::openBeside(QWidget *owner, Session &session, PreviewJob job)
{
    QWidget *window = owner->window();
    for (auto *open : window->findChildren<PaperPreview *>()) {
        open->deleteLater();
    }
    auto *preview = new PaperPreview(session, std::move(job), window);
    preview->setWindowFlag(Qt::Window);
    preview->setAttribute(Qt::WA_DeleteOnClose);
    preview->resize(1100, 760);
    preview->show();
    return preview;
}

QWidget *PaperPreview::buildBar()
{
    auto *bar = new QWidget(this);
    auto *row = new QHBoxLayout(bar);
    row->setContentsMargins(0, 0, 0, 0);
    const auto add = [&](const QString &text, const char *name, auto act) {
        auto *button = new QPushButton(text, bar);
        button->setObjectName(QLatin1String(name));
        connect(button, &QPushButton::clicked, this, act);
        row->addWidget(button);
        return button;
    };
    add(tr("Save as PDF..."), "previewSave", &PaperPreview::savePdf)
        ->setProperty("role", QStringLiteral("primary"));
    add(tr("Print..."), "previewPrint", &PaperPreview::print);
    row->addSpacing(16);
    add(tr("Page before"), "previewBack", [this] { goTo(m_pages->currentPage() - 1); });
    row->addWidget(m_where);
    add(tr("Next page"), "previewNext", [this] { goTo(m_pages->currentPage() + 1); });
    row->addSpacing(16);
    add(tr("Whole page"), "previewFit", [this] { m_pages->fitInView(); });
    add(tr("Page width"), "previewWidth", [this] { m_pages->fitToWidth(); });
    row->addStretch(1);
    for (const auto &[key, step] :
         {std::pair{Qt::Key_PageUp, -1}, std::pair{Qt::Key_PageDown, 1}}) {
        auto *turn = new QShortcut(QKeySequence(key), this);
        connect(turn, &QShortcut::activated, this,
                [this, step = step] { goTo(m_pages->currentPage() + step); });
    }
    return bar;
}

QWidget *PaperPreview::buildPick()
{
    auto *line = new QWidget(this);
    auto *row = new QHBoxLayout(line);
    row->setContentsMargins(0, 0, 0, 0);
    auto *options = new CalmComboBox(line);
    options->setObjectName(QStringLiteral("previewPick"));
    options->setAccessibleName(m_job.pick->label);
    options->setSizeAdjustPolicy(QComboBox::AdjustToContents);
    options->addItems(m_job.pick->options);
    options->setCurrentIndex(m_job.pick->current);
    m_pickWords = plainLabel({}, QStringLiteral("quiet"), line);
    m_pickWords->setObjectName(QStringLiteral("previewPickWords"));
    row->addWidget(plainCaption(m_job.pick->label, {}, line));
    row->addWidget(options);
    row->addWidget(m_pickWords, 1);
    take(m_job.pick->current);
    connect(options, &QComboBox::activated, this, [this](int option) {
        take(option);
        make();
    });
    return line;
}

void PaperPreview::take(int option)
{
    const PreviewPick::Taken taken = m_job.pick->take(option);
    m_pickWords->setText(taken.words);
    m_job.suggestedName = taken.suggestedName;
}

std::vector<int> PaperPreview::ticked() const
{
    std::vector<int> places;
    for (int i = 0; i < m_choices->count(); ++i) {
        if (m_choices->item(i)->checkState() == Qt::Checked) {
            places.push_back(i);
        }
    }
    return places;
}

void PaperPreview::make()
{
    const WaitShown wait(this);
    Result<std::vector<PaperPart>> parts = m_job.make(ticked());
    m_refusal->setText(parts ? QString() : parts.error().message);
    m_refusal->setVisible(!parts);
    m_parts = parts ? std::move(*parts) : std::vector<PaperPart>{};
    for (const char *name : {"previewSave", "previewPrint"}) {
        findChild<QPushButton *>(QLatin1String(name))->setEnabled(!m_parts.empty());
    }
    m_pages->updatePreview();
    refreshPage();
}

void PaperPreview::paint(QPrinter *printer)
{
    if (m_parts.empty()) {
        QPainter(printer).end(); // one empty page
        return;
    }
    PageFurniture furniture = furnitureOf(m_session);
    PaperOptions options = m_job.options;
    furniture.paper = printer->pageLayout().pageSize().id(); // as the print dialog may have it
    options.orientation = printer->pageLayout().orientation();
    // Counted first on paper that is thrown away: every head says how many pages there are.
    const int pages = countPages(m_parts, furniture, options);
    paintPaper(*printer, m_parts, furniture, options, pages);
}

int PaperPreview::pageCount() const
{
    return m_pages->pageCount();
}

void PaperPreview::savePdf()
{
    const QString path =
        chooseFileToSave(this, tr("Save as PDF"), m_job.suggestedName, tr("PDF (*.pdf)"));
    if (path.isEmpty()) {
        return;
    }
    const Status written =
        writePaper(m_job.title, m_parts, furnitureOf(m_session), m_job.options, path);
    if (written) {
        Q_EMIT m_session.notifier().said(tr("Saved to %1").arg(path));
    }
    m_refusal->setText(written ? QString() : written.error().message);
    m_refusal->setVisible(!written);
}

void PaperPreview::print()
{
    auto *dialog = new QPrintDialog(m_printer.get(), this);
    dialog->setAttribute(Qt::WA_DeleteOnClose);
    connect(dialog, qOverload<QPrinter *>(&QPrintDialog::accepted), this,
            [this](QPrinter *printer) { paint(printer); });
    dialog->open();
}

void PaperPreview::goTo(int page)
{
    m_pages->setCurrentPage(std::clamp(page, 1, std::max(1, m_pages->pageCount())));
    refreshPage();
}

void PaperPreview::refreshPage()
{
    m_where->setText(
        m_parts.empty()
            ? tr("no page")
            : tr("page %1 of %2").arg(m_pages->currentPage()).arg(m_pages->pageCount()));
}

} // namespace keyround
